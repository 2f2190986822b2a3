// The disk at its worst: fails, fills up, or loses power at the n-th call, for every n. Afterwards each acknowledged shot
// must be whole, whatever was not acknowledged must be gone or harmless, and the same work must succeed when done again.
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { random, UnderfootError } from "@underfoot/domain";
import { simulatedFiles } from "@underfoot/pipeline";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { demoShots, simulateShot } from "../../../simulator/src/index.ts";
import { type FileSystem, type Library, nodeFileSystem, openLibrary, restoreLibrary, sha256Of } from "../index.ts";

const [plan] = demoShots({ seed: 1 });
const { c3d } = simulatedFiles(simulateShot(plan!), "a.c3d");
/** The same shot under different bytes: a word of the header that the format leaves free. */
const bytesOf = (k: number): Uint8Array => {
  const bytes = c3d.slice();
  new DataView(bytes.buffer).setUint32(64, k, true);
  return bytes;
};

const CHILD = join(import.meta.dirname, "../../../../bench/crash.ts");

let root: string;
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "underfoot-disk-"));
});
afterEach(() => {
  rmSync(root, { recursive: true, force: true });
});

const open = (files: FileSystem): Promise<Library> =>
  openLibrary({ folder: join(root, "library"), files, random: random(1) });

/** Every call counted; `before` may throw. */
function watched(inner: FileSystem, before: (call: number) => void): FileSystem {
  let calls = 0;
  const tick = (): void => before(++calls);
  const counted =
    <A extends unknown[], R>(deed: (...args: A) => Promise<R>) =>
    async (...args: A): Promise<R> => {
      tick();
      return deed(...args);
    };
  return {
    makeFolder: counted(inner.makeFolder),
    list: counted(inner.list),
    byteCount: counted(inner.byteCount),
    changedMs: counted(inner.changedMs),
    read: counted(inner.read),
    openReader: counted(inner.openReader),
    openWriter: counted(async (path) => {
      const file = await inner.openWriter(path);
      return { write: counted(file.write), finish: counted(file.finish), abandon: file.abandon };
    }),
    rename: counted(inner.rename),
    syncFolder: counted(inner.syncFolder),
    remove: counted(inner.remove),
  };
}

const full = (): Error => Object.assign(new Error("no space left on device"), { code: "ENOSPC" });

/** A disk that keeps only what was synced: bytes by their file, names by their folder. */
class LosingDisk {
  readonly #names = new Map<string, { data: Uint8Array<ArrayBuffer>; synced: Uint8Array<ArrayBuffer> | undefined }>();
  readonly #durable: Map<string, { data: Uint8Array<ArrayBuffer>; synced: Uint8Array<ArrayBuffer> | undefined }>;
  constructor(durable: LosingDisk["names"] = new Map()) {
    this.#durable = new Map(durable);
    this.#names = new Map(durable);
  }
  get names(): Map<string, { data: Uint8Array<ArrayBuffer>; synced: Uint8Array<ArrayBuffer> | undefined }> {
    return this.#names;
  }
  #file(path: string) {
    const file = this.#names.get(path);
    if (!file) throw Object.assign(new Error(path), { code: "ENOENT" });
    return file;
  }
  readonly files: FileSystem = {
    makeFolder: async () => undefined,
    list: async (path) => [
      ...new Set(
        [...this.#names.keys()]
          .filter((name) => name.startsWith(`${path}/`))
          .map((name) => name.slice(path.length + 1).split("/")[0]!),
      ),
    ],
    byteCount: async (path) => this.#names.get(path)?.data.length,
    changedMs: async (path) => (this.#names.has(path) ? 0 : undefined),
    read: async (path) => this.#file(path).data.slice(),
    openReader: async (path) => {
      const { data } = this.#file(path);
      return {
        byteCount: data.length,
        read: async (first, count) => data.slice(first, first + count),
        close: async () => undefined,
      };
    },
    openWriter: async (path) => {
      const file = { data: new Uint8Array(0), synced: undefined as Uint8Array<ArrayBuffer> | undefined };
      this.#names.set(path, file);
      return {
        write: async (bytes) => {
          file.data = new Uint8Array([...file.data, ...bytes]);
        },
        finish: async () => {
          file.synced = file.data;
        },
        abandon: async () => undefined,
      };
    },
    rename: async (from, to) => {
      this.#names.set(to, this.#file(from));
      this.#names.delete(from);
    },
    syncFolder: async (path) => {
      for (const name of this.#durable.keys())
        if (dirname(name) === path && !this.#names.has(name)) this.#durable.delete(name);
      for (const [name, file] of this.#names) if (dirname(name) === path) this.#durable.set(name, file);
    },
    remove: async (path) => {
      this.#names.delete(path);
    },
  };
  /** The disk as it is found when the power is back. Names that were not synced are lost, or are there: both happen. */
  afterPowerLoss(names: "lost" | "there"): LosingDisk {
    const left = new Map<string, { data: Uint8Array<ArrayBuffer>; synced: Uint8Array<ArrayBuffer> | undefined }>();
    for (const [name, file] of names === "lost" ? this.#durable : this.#names) {
      const data = file.synced ?? file.data.slice(0, file.data.length / 2);
      left.set(name, { data, synced: data });
    }
    return new LosingDisk(left);
  }
}

interface Acknowledged {
  readonly shotId: string;
  readonly sha256: string;
}

/** Three imports, the second one under a name that is there already; what was acknowledged, and how it ended. */
async function work(library: Library): Promise<{ readonly done: Acknowledged[]; readonly fault: unknown }> {
  const done: Acknowledged[] = [];
  try {
    for (const k of [1, 2, 3]) {
      const { shotId, recordingSha256 } = await library.importRecording({ bytes: bytesOf(k), fileName: `${k}.c3d` });
      done.push({ shotId, sha256: recordingSha256 });
    }
    return { done, fault: undefined };
  } catch (fault) {
    return { done, fault };
  }
}

async function expectWhole(library: Library, done: readonly Acknowledged[]): Promise<void> {
  for (const { shotId, sha256 } of done) {
    expect((await library.shots.byId(shotId)).recordingSha256).toBe(sha256);
    expect(sha256Of(await library.recordingBytes(sha256))).toBe(sha256);
  }
  expect((await library.verify()).findings).toEqual([]);
}

describe("the disk fills up at the n-th call", () => {
  test("for every n: a clear sentence, what was acknowledged is whole, and the same again succeeds", async () => {
    let wasReached = true;
    let count = 0;
    for (let n = 1; wasReached; n++) {
      wasReached = false;
      rmSync(join(root, "library"), { recursive: true, force: true });
      await open(nodeFileSystem).then((library) => library.close());
      let isArmed = false;
      const files = watched(nodeFileSystem, (call) => {
        if (!isArmed || call !== n + 1) return;
        wasReached = true;
        throw full();
      });
      const library = await open(files);
      isArmed = true;
      const { done, fault } = await work(library);
      isArmed = false;
      if (wasReached) {
        expect(fault, `call ${n}`).toBeInstanceOf(UnderfootError);
        expect(fault).toMatchObject({
          code: "library-disk-full",
          message: expect.stringMatching(/disk is full.*untouched/),
        });
        count++;
      } else expect(fault).toBeUndefined();
      await expectWhole(library, done);
      expect((await work(library)).done).toHaveLength(3);
      await expectWhole(library, (await work(library)).done);
      await library.close();
    }
    expect(count).toBeGreaterThan(15);
  });

  test("for every n a backup is whole or not there, and leaves nothing beside it", async () => {
    const library = await open(nodeFileSystem);
    await work(library);
    await library.close();
    let wasReached = true;
    let count = 0;
    for (let n = 1; wasReached; n++) {
      wasReached = false;
      const folder = join(root, `backups-${n}`);
      mkdirSync(folder);
      let isArmed = false;
      let calls = 0;
      const files = watched(nodeFileSystem, () => {
        if (!isArmed || ++calls !== n) return;
        wasReached = true;
        throw full();
      });
      const again = await open(files);
      isArmed = true;
      const fault = await again.backup(join(folder, "backup.tar")).then(
        () => undefined,
        (cause: unknown) => cause,
      );
      isArmed = false;
      await again.close();
      if (fault !== undefined) {
        expect(fault, `call ${n}`).toMatchObject({ code: "library-disk-full" });
        count++;
      }
      const names = readdirSync(folder);
      // After the rename only the syncing of the folder, or the sweeping up, can fail: then the backup is there, and whole.
      if (names.includes("backup.tar")) {
        const { recordings } = await restoreLibrary(join(folder, "backup.tar"), join(root, `restored-${n}`));
        expect(recordings).toBe(3);
      }
    }
    expect(count).toBeGreaterThan(10);
  });
});

describe("the power goes at the n-th call", () => {
  test.each(["lost", "there"] as const)("for every n, names that were not synced being %s", async (names) => {
    let wasReached = true;
    let count = 0;
    for (let n = 1; wasReached; n++) {
      wasReached = false;
      rmSync(join(root, "library"), { recursive: true, force: true });
      mkdirSync(join(root, "library"));
      const disk = new LosingDisk();
      const library = await open(
        watched(disk.files, (call) => {
          // The first call makes the folder at the opening.
          if (call <= n) return;
          wasReached = true;
          throw new Error("no power");
        }),
      );
      const { done } = await work(library);
      await library.close();
      if (wasReached) count++;
      const later = await open(disk.afterPowerLoss(names).files);
      await expectWhole(later, done);
      const again = await work(later);
      expect(again.fault).toBeUndefined();
      await expectWhole(later, again.done);
      await later.close();
    }
    expect(count).toBeGreaterThan(15);
  });
});

/** What the child acknowledged before the disk said no, and how it said so. */
function acknowledged(stdout: string): { readonly shots: readonly string[]; readonly fault: string | undefined } {
  const lines = stdout.split("\n");
  return {
    shots: lines.filter((line) => line.startsWith("shot ")).map((line) => line.split(" ")[1]!),
    fault: lines.find((line) => line.startsWith("fault "))?.slice(6),
  };
}

describe("a real disk", () => {
  test.skipIf(process.platform === "win32")(
    "no file may grow any more: the catalogue says so in a sentence, and nothing is lost",
    async () => {
      const folder = join(root, "library");
      // 3000 blocks of 1024 bytes: a recording fits, the catalogue's log does not for long.
      const child = spawnSync(
        "bash",
        ["-c", `ulimit -f 3000; exec "${process.execPath}" "${CHILD}" --child "${folder}"`],
        { encoding: "utf8" },
      );
      const { shots, fault } = acknowledged(child.stdout);
      expect(child.stderr).toBe("");
      expect(shots.length).toBeGreaterThan(3);
      expect(fault).toMatch(/^library-(unwritable|disk-full) .*(untouched)/);
      const library = await openLibrary({ folder });
      for (const id of shots) expect((await library.shots.byId(id)).id).toBe(id);
      expect((await library.verify()).findings).toEqual([]);
      await library.close();
    },
  );

  const canMount = process.platform === "linux" && spawnSync("unshare", ["-rm", "true"]).status === 0;
  test.skipIf(!canMount)(
    "a disk of 4 MB fills up (needs a mount namespace): a sentence, nothing lost once there is room",
    async () => {
      const folder = join(root, "disk");
      mkdirSync(folder);
      const copy = join(root, "copy");
      const script = `mount -t tmpfs -o size=4m none "${folder}" && "${process.execPath}" "${CHILD}" --child "${folder}/library"; cp -r "${folder}/library" "${copy}"`;
      const child = spawnSync("unshare", ["-rm", "bash", "-c", script], { encoding: "utf8" });
      const { shots, fault } = acknowledged(child.stdout);
      expect(fault).toMatch(/^library-disk-full The disk is full: .* untouched\. Free some space/);
      expect(shots.length).toBeGreaterThan(3);
      const library = await openLibrary({ folder: copy });
      for (const id of shots) expect((await library.shots.byId(id)).id).toBe(id);
      expect((await library.verify()).findings).toEqual([]);
      await library.close();
    },
  );

  test.skipIf(!canMount)("a disk that may only be read (needs a mount namespace): a sentence", async () => {
    const folder = join(root, "disk");
    mkdirSync(folder);
    const library = await openLibrary({ folder: join(folder, "library") });
    await library.close();
    const script = `mount --bind "${folder}" "${folder}" && mount -o remount,ro,bind "${folder}" && exec "${process.execPath}" "${CHILD}" --child "${folder}/library"`;
    const child = spawnSync("unshare", ["-rm", "bash", "-c", script], { encoding: "utf8" });
    expect(acknowledged(child.stdout).fault).toMatch(
      /^library-read-only .* read-only\. .* Allow this user to write there/,
    );
  });

  test("a file that is no catalogue is said to be damaged, and stays as it is", async () => {
    const folder = join(root, "library");
    mkdirSync(folder);
    execFileSync("bash", ["-c", `head -c 20000 /dev/zero | tr '\\0' x > "${join(folder, "catalogue.sqlite")}"`]);
    await expect(openLibrary({ folder })).rejects.toMatchObject({ code: "library-damaged" });
    expect(existsSync(join(folder, "catalogue.sqlite"))).toBe(true);
  });
});
