/**
 * A stream of random numbers that is the same everywhere for the same seed and label.
 * Generator xoshiro128** (Blackman & Vigna 2021), seeded by SplitMix64 (Steele, Lea & Flood 2014) from
 * `seed xor FNV-1a 64(label)` (empty label: the seed alone).
 */
export interface Random {
  /** 32 unsigned bits. */
  u32(): number;
  /** In [0, 1), 53 bits. */
  unit(): number;
  /** An integer 0 .. m-1 without bias (Lemire 2019). */
  below(m: number): number;
  /** Standard normal, Marsaglia's polar method; the second of a pair is kept for the next call. */
  normal(): number;
  /** Fisher-Yates from the front, in place; after k steps the first k are a random subset. */
  shuffle<T>(items: T[], steps?: number): T[];
  /** +1 or -1, +1 where bit 31 is clear. */
  sign(): 1 | -1;
}

const MASK_64 = (1n << 64n) - 1n;
/** 2^53 / 2^32. */
const EXACT_BELOW = 2097152;
const FNV_OFFSET = 0xcbf29ce484222325n;
const FNV_PRIME = 0x100000001b3n;

function utf8(text: string): number[] {
  const bytes: number[] = [];
  for (const letter of text) {
    const code = letter.codePointAt(0) as number;
    if (code < 0x80) bytes.push(code);
    else if (code < 0x800) bytes.push(0xc0 | (code >> 6), 0x80 | (code & 63));
    else if (code < 0x10000) bytes.push(0xe0 | (code >> 12), 0x80 | ((code >> 6) & 63), 0x80 | (code & 63));
    else bytes.push(0xf0 | (code >> 18), 0x80 | ((code >> 12) & 63), 0x80 | ((code >> 6) & 63), 0x80 | (code & 63));
  }
  return bytes;
}

function stateFromSeed(seed: number | bigint, label: string): [number, number, number, number] {
  let at = BigInt(seed) & MASK_64;
  if (label !== "") {
    let hash = FNV_OFFSET;
    for (const byte of utf8(label)) hash = ((hash ^ BigInt(byte)) * FNV_PRIME) & MASK_64;
    at ^= hash;
  }
  const words: number[] = [];
  for (let k = 0; k < 2; k++) {
    at = (at + 0x9e3779b97f4a7c15n) & MASK_64;
    let z = at;
    z = ((z ^ (z >> 30n)) * 0xbf58476d1ce4e5b9n) & MASK_64;
    z = ((z ^ (z >> 27n)) * 0x94d049bb133111ebn) & MASK_64;
    z ^= z >> 31n;
    words.push(Number(z & 0xffffffffn), Number(z >> 32n));
  }
  return words as [number, number, number, number];
}

/** The stream of a seed and a label. */
export function random(seed: number | bigint, label = ""): Random {
  return randomFromState(stateFromSeed(seed, label));
}

/** The stream from four 32-bit words of state, not all zero. */
export function randomFromState(state: readonly [number, number, number, number]): Random {
  let [a, b, c, d] = state.map((word) => word >>> 0) as [number, number, number, number];
  let spare: number | undefined;
  const u32 = (): number => {
    const scrambled = Math.imul(b, 5);
    const result = Math.imul((scrambled << 7) | (scrambled >>> 25), 9) >>> 0;
    const shifted = (b << 9) >>> 0;
    c = (c ^ a) >>> 0;
    d = (d ^ b) >>> 0;
    b = (b ^ c) >>> 0;
    a = (a ^ d) >>> 0;
    c = (c ^ shifted) >>> 0;
    d = ((d << 11) | (d >>> 21)) >>> 0;
    return result;
  };
  const unit = (): number => {
    const high = u32() >>> 5;
    return (high * 67108864 + (u32() >>> 6)) / 9007199254740992;
  };
  const below = (m: number): number => {
    const threshold = (4294967296 - m) % m;
    // The product of both is exact in a double up to here, and quicker than by BigInt.
    for (; m <= EXACT_BELOW; ) {
      const product = u32() * m;
      const high = Math.floor(product / 4294967296);
      if (product - high * 4294967296 >= threshold) return high;
    }
    for (;;) {
      const product = BigInt(u32()) * BigInt(m);
      if (Number(product & 0xffffffffn) >= threshold) return Number(product >> 32n);
    }
  };
  const normal = (): number => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const u = 2 * unit() - 1;
      const v = 2 * unit() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const factor = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * factor;
        return u * factor;
      }
    }
  };
  const shuffle = <T>(items: T[], steps: number = items.length - 1): T[] => {
    const n = items.length;
    for (let i = 0; i < Math.min(steps, n - 1); i++) {
      const j = i + below(n - i);
      const held = items[i] as T;
      items[i] = items[j] as T;
      items[j] = held;
    }
    return items;
  };
  return { u32, unit, below, normal, shuffle, sign: () => (u32() >>> 31 === 0 ? 1 : -1) };
}
