// `underfoot serve` as a person starts it: what it says, what it answers, and that it ends when it is asked to.
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const ROOT = join(import.meta.dirname, "../../..");
const COMMAND = join(ROOT, "packages/underfoot/bin/underfoot.js");
const hasPage = existsSync(join(ROOT, "packages/web/dist/index.html"));

let home: string;
beforeAll(() => {
  home = mkdtempSync(join(tmpdir(), "underfoot-serve-"));
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

const env = (): NodeJS.ProcessEnv => ({ ...process.env, UNDERFOOT_HOME: home });

interface Served {
  readonly process: ChildProcess;
  readonly address: string;
  readonly said: string;
}

async function served(...words: readonly string[]): Promise<Served> {
  const started = spawn(process.execPath, [COMMAND, "serve", "--no-open", "--port", "0", ...words], { env: env() });
  let said = "";
  return new Promise((resolve, reject) => {
    const hear = (bytes: Buffer): void => {
      said += bytes.toString();
      const address = /at (http:\/\/\S+)/.exec(said)?.[1];
      if (address !== undefined) resolve({ process: started, address, said });
    };
    started.stdout?.on("data", hear);
    started.stderr?.on("data", hear);
    started.on("exit", (code) => reject(new Error(`It ended with ${code}: ${said}`)));
  });
}

async function stopped({ process: running }: Served): Promise<number | null> {
  running.kill("SIGTERM");
  const [code] = (await once(running, "exit")) as [number | null];
  return code;
}

// biome-ignore lint/suspicious/noExplicitAny: a test looks at any part of any answer.
const asked = async (address: string, path: string, method = "GET", body?: object): Promise<any> => {
  const answer = await fetch(`${address}api/${path}`, {
    method,
    ...(body ? { body: JSON.stringify(body), headers: { "Content-Type": "application/json" } } : {}),
  });
  return answer.json();
};

describe("serve", () => {
  test("a folder of recordings is to be brought in first", () => {
    const { status, stderr } = spawnSync(process.execPath, [COMMAND, "serve", "day1"], {
      env: env(),
      encoding: "utf8",
    });
    expect(status).toBe(2);
    expect(stderr).toBe("serve shows the library; bring the recordings of day1 into it first: underfoot import day1\n");
  });

  test("a library that cannot be made is one sentence", () => {
    writeFileSync(join(home, "file"), "");
    const words = ["serve", "--no-open", "--port", "0", "--library", join(home, "file")];
    const { status, stderr } = spawnSync(process.execPath, [COMMAND, ...words], { env: env(), encoding: "utf8" });
    expect(status).toBe(1);
    expect(stderr.trim().split("\n")).toHaveLength(1);
    expect(stderr).toMatch(hasPage ? /file/ : /page is not built/);
  });

  // Without a built page (npm start, npm test) there is nothing to serve.
  test.skipIf(!hasPage)("makes the library, backs it up, remembers another place, ends when asked", async () => {
    const first = await served();
    expect(first.said).toContain(`Underfoot shows 0 shots of ${join(home, "library")} at http://127.0.0.1:`);
    const about = await asked(first.address, "about");
    expect(about).toMatchObject({ isDemo: false, folder: join(home, "library"), engine: "sqlite" });
    const player = { code: "P01", handed: "right", pronoun: "she", consent: "none" };
    await asked(first.address, "players", "POST", player);
    await expect.poll(() => existsSync(join(home, "library", "backups", `underfoot-${about.day}.tar`))).toBe(true);
    const folder = join(home, "elsewhere");
    expect(await asked(first.address, "place", "PUT", { folder })).toMatchObject({ folder });
    expect(await asked(first.address, "players")).toEqual([]);
    expect(await stopped(first)).toBe(0);
    expect(JSON.parse(readFileSync(join(home, "place.json"), "utf8"))).toMatchObject({ library: folder });
    const second = await served();
    expect((await asked(second.address, "about")).folder).toBe(folder);
    expect(await stopped(second)).toBe(0);
    const named = await served("--library", join(home, "library"));
    expect(await asked(named.address, "players")).toMatchObject([player]);
    expect(await stopped(named)).toBe(0);
  });
});
