// A PostgreSQL server for tests and benches: its own folder, port and socket, loopback only, gone afterwards.
import { execFileSync } from "node:child_process";
import { chownSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";

export interface ThrowawayPostgres {
  /** A new, empty database: its address. */
  database(): string;
  stop(): void;
}

const DEBIAN_FOLDER = "/usr/lib/postgresql";

/** Where initdb and pg_ctl lie; undefined where PostgreSQL's server is not installed. */
export function postgresPrograms(): string | undefined {
  const debian = existsSync(DEBIAN_FOLDER)
    ? readdirSync(DEBIAN_FOLDER).map((version) => join(DEBIAN_FOLDER, version, "bin"))
    : [];
  const folders = [...debian.reverse(), ...(process.env["PATH"] ?? "").split(delimiter)];
  return folders.find((folder) => existsSync(join(folder, "initdb")) && existsSync(join(folder, "pg_ctl")));
}

/** PostgreSQL refuses to run as root: then as its own user, or as nobody. */
function otherUser(): { readonly uid: number; readonly gid: number } | undefined {
  if (process.getuid?.() !== 0) return undefined;
  const users = readFileSync("/etc/passwd", "utf8")
    .split("\n")
    .map((line) => line.split(":"));
  const user = users.find(([name]) => name === "postgres") ?? users.find(([name]) => name === "nobody");
  return user && { uid: Number(user[2]), gid: Number(user[3]) };
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  return typeof address === "object" && address ? address.port : 0;
}

export async function throwawayPostgres(programs: string): Promise<ThrowawayPostgres> {
  const folder = mkdtempSync(join(tmpdir(), "underfoot-pg-"));
  const user = otherUser();
  if (user) chownSync(folder, user.uid, user.gid);
  const data = join(folder, "data");
  const run = (program: string, ...args: string[]): void => {
    execFileSync(join(programs, program), args, {
      ...user,
      cwd: folder,
      stdio: "ignore",
      env: { ...process.env, HOME: folder },
    });
  };
  const port = await freePort();
  run("initdb", "-D", data, "-U", "underfoot", "-A", "trust", "-E", "UTF8", "--no-locale");
  run(
    "pg_ctl",
    "-D",
    data,
    "-w",
    "-l",
    join(folder, "log"),
    "-o",
    `-p ${port} -k ${folder} -c listen_addresses=127.0.0.1 -c fsync=off`,
    "start",
  );
  let count = 0;
  return {
    database: () => {
      const name = `library_${++count}`;
      run("createdb", "-h", "127.0.0.1", "-p", String(port), "-U", "underfoot", name);
      return `postgres://underfoot@127.0.0.1:${port}/${name}`;
    },
    stop: () => {
      run("pg_ctl", "-D", data, "-m", "immediate", "stop");
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
