// The inner loop of max-t in WebAssembly, two points an instruction. The plain loop in subset-sums.ts is its reference and its stand-in
// where a page does not allow WebAssembly; both give the same bits.

/** What is used of the engine's WebAssembly; the pure rooms see no types of the platform. */
interface Engine {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: object };
  readonly Memory: new (limits: { initial: number }) => { readonly buffer: ArrayBuffer };
  validate(bytes: Uint8Array): boolean;
}

/** Points worked on together: their tables stay in the cache of one core (own choice, measured). */
export const POINTS_TOGETHER = 32;
const TABLE_BYTES = 256 * POINTS_TOGETHER * 8;
const COUNT_TABLES = 3;
const PAGE_BYTES = 65_536;
/** Accumulators, so that one comparison need not wait for the last. */
const COUNT_LARGEST = 4;

/** Parameters and locals of the function, by number. */
const ROWS_LEFT = 0;
const BYTES_AT = 1;
const OUT_AT = 2;
const FIRST_PATTERN = 3;
const FIRST_LARGEST = FIRST_PATTERN + COUNT_TABLES;

/** Unsigned LEB128. */
function whole(value: number): number[] {
  return value < 128 ? [value] : [(value & 127) | 128, ...whole(value >>> 7)];
}
const vector = (items: readonly (readonly number[])[]): number[] => [...whole(items.length), ...items.flat()];
const section = (id: number, content: readonly number[]): number[] => [id, ...whole(content.length), ...content];
const text = (letters: string): number[] => vector(Array.from(letters, (letter) => [letter.codePointAt(0) as number]));

const get = (local: number): number[] => [0x20, local];
const set = (local: number): number[] => [0x21, local];
const constant = (value: number): number[] => [0x41, value];
const wide = (operation: number, ...rest: number[]): number[] => [0xfd, ...whole(operation), ...rest];
const [LOAD, SPLAT, LANE, ABS, ADD, LARGER] = [0x00, 0x14, 0x21, 0xec, 0xf0, 0xf7];

/** local = local + step. */
const advanced = (local: number, step: number): number[] => [...get(local), ...constant(step), 0x6a, ...set(local)];

/** One row: patterns to addresses, largest of |a + b + c| over the block and what the row had, stored again. */
function rowCode(): number[] {
  const tables = Array.from({ length: COUNT_TABLES }, (_, k) => k);
  const addresses = tables.flatMap((k) => [
    // pattern × 32 points × 8 bytes
    ...[...get(BYTES_AT), 0x2d, 0, k, ...constant(8), 0x74],
    ...set(FIRST_PATTERN + k),
  ]);
  const largest = Array.from({ length: COUNT_LARGEST }, (_, k) => FIRST_LARGEST + k);
  const begun = largest.flatMap((local) => [...get(OUT_AT), 0x2b, 3, 0, ...wide(SPLAT), ...set(local)]);
  const pairs = Array.from({ length: POINTS_TOGETHER / 2 }, (_, pair) => {
    const local = FIRST_LARGEST + (pair % COUNT_LARGEST);
    const loads = tables.map((k) => [
      ...get(FIRST_PATTERN + k),
      ...wide(LOAD, 3, ...whole(k * TABLE_BYTES + 16 * pair)),
      ...(k === 0 ? [] : wide(ADD)),
    ]);
    return [...get(local), ...loads.flat(), ...wide(ABS), ...wide(LARGER), ...set(local)];
  });
  const merged = [...get(FIRST_LARGEST), ...largest.slice(1).flatMap((local) => [...get(local), ...wide(LARGER)])];
  const [one, other] = [0, 1].map((lane) => [...get(FIRST_LARGEST), ...wide(LANE, lane)]) as [number[], number[]];
  const stored = [...merged, ...set(FIRST_LARGEST), ...get(OUT_AT), ...one, ...other, 0xa5, 0x39, 3, 0];
  return [...addresses, ...begun, ...pairs.flat(), ...stored];
}

function moduleBytes(): Uint8Array {
  const row = rowCode();
  const rest = [...advanced(BYTES_AT, COUNT_TABLES), ...advanced(OUT_AT, 8)];
  const again = [...get(ROWS_LEFT), ...constant(1), 0x6b, 0x22, ROWS_LEFT, 0x0d, 0];
  const locals = vector([
    [COUNT_TABLES, 0x7f],
    [COUNT_LARGEST, 0x7b],
  ]);
  const body = [...locals, 0x03, 0x40, ...row, ...rest, ...again, 0x0b, 0x0b];
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, vector([[0x60, ...vector([[0x7f], [0x7f], [0x7f]]), 0]])),
    ...section(2, vector([[...text("in"), ...text("memory"), 2, 0, 1]])),
    ...section(3, vector([[0]])),
    ...section(7, vector([[...text("raise"), 0, 0]])),
    ...section(10, vector([[...whole(body.length), ...body]])),
  ]);
}

/** The compiled loop, once for the process; undefined where the engine has none or the page forbids it. */
function compiledModule(): { readonly engine: Engine; readonly module: object } | undefined {
  const engine = (globalThis as { readonly WebAssembly?: Engine }).WebAssembly;
  const bytes = moduleBytes();
  if (engine === undefined || !engine.validate(bytes)) return undefined;
  try {
    return { engine, module: new engine.Module(bytes) };
  } catch {
    // A Content-Security-Policy without wasm-unsafe-eval refuses here and nowhere earlier; the plain loop does the same.
    return undefined;
  }
}
const compiled = compiledModule();

/** Room for tables, labellings and results, and the loop over them. */
export interface WideKernel {
  /** 3 tables of 256 patterns × 32 points. */
  readonly sums: Float64Array;
  readonly largest: Float64Array<ArrayBuffer>;
  /** Raises each row's largest |sum| over the block in `sums`. */
  raise(): void;
}

/**
 * The loop for rows of three bytes (up to 24 shots).
 *
 * @returns undefined where it cannot be had
 */
export function wideKernel(rows: { readonly bytes: Uint8Array; readonly countRows: number }): WideKernel | undefined {
  if (compiled === undefined || rows.countRows === 0) return undefined;
  const { engine, module } = compiled;
  const outAt = COUNT_TABLES * TABLE_BYTES;
  const bytesAt = outAt + 8 * rows.countRows;
  const pages = Math.ceil((bytesAt + rows.bytes.length) / PAGE_BYTES);
  const memory = new engine.Memory({ initial: pages });
  const { exports } = new engine.Instance(module, { in: { memory } });
  const { raise } = exports as { raise(rowsLeft: number, bytesAt: number, outAt: number): void };
  new Uint8Array(memory.buffer, bytesAt).set(rows.bytes);
  return {
    sums: new Float64Array(memory.buffer, 0, (COUNT_TABLES * TABLE_BYTES) / 8),
    largest: new Float64Array(memory.buffer, outAt, rows.countRows),
    raise: () => raise(rows.countRows, bytesAt, outAt),
  };
}
