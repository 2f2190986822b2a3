// One real socket: the port, Host and Origin as the network brings them, and changes as a page hears them.
import { once } from "node:events";
import { connect } from "node:net";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { openLibrary } from "@underfoot/library";
import type { ChangeMessage } from "@underfoot/protocol";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { WebSocket } from "ws";
import { type Listening, listening } from "./listening.ts";
import { type ServerForTests, serverForTests } from "./server-for-tests.ts";

let at: ServerForTests;
let open: Listening;
beforeAll(async () => {
  at = await serverForTests();
  open = await listening(at.server, 0);
  at.server.watch();
});
afterAll(async () => {
  await open.close();
  await at.end();
});

const port = (): number => Number(new URL(open.address).port);
const player = (code: string) => ({ code, handed: "right", pronoun: "they", consent: "none" });
const post = (code: string): Promise<Response> =>
  fetch(`${open.address}api/players`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(player(code)),
  });

/** What comes back for bytes as they are written. */
async function raw(text: string): Promise<string> {
  const socket = connect(port(), "127.0.0.1");
  let said = "";
  socket.on("data", (bytes) => {
    said += bytes.toString("latin1");
  });
  // A server that has said no may well cut the line while we still write.
  socket.on("error", () => undefined);
  socket.write(text);
  await Promise.race([new Promise((resolve) => socket.once("close", resolve)), wait(700)]);
  socket.destroy();
  return said;
}

const upgrade = (headers: Readonly<Record<string, string>>): string =>
  [
    "GET /api/changes HTTP/1.1",
    ...Object.entries({
      Host: `127.0.0.1:${port()}`,
      ...{ Connection: "Upgrade", Upgrade: "websocket", "Sec-WebSocket-Version": "13" },
      "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
      ...headers,
    }).map(([name, value]) => `${name}: ${value}`),
    "\r\n",
  ].join("\r\n");

describe("listening", () => {
  test("on loopback, and a taken port is one sentence", async () => {
    expect(open.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
    expect((await fetch(open.address)).status).toBe(200);
    await expect(listening(at.server, port())).rejects.toThrow(/is taken by another program/);
  });

  test("each change comes over the socket after it is on the disk, another program's too", async () => {
    const socket = new WebSocket(`${open.address.replace("http", "ws")}api/changes`, {
      origin: open.address.slice(0, -1),
    });
    const heard: ChangeMessage[] = [];
    socket.on("message", (text) => heard.push(JSON.parse(String(text)) as ChangeMessage));
    await once(socket, "open");
    expect((await post("P01")).status).toBe(201);
    await expect.poll(() => heard).toMatchObject([{ kind: "player", deed: "added the player P01" }]);
    const other = await openLibrary({ folder: join(at.root, "library") });
    await other.players.add({ code: "P02", handed: "left", pronoun: "he", consent: "none" });
    await other.close();
    await expect.poll(() => heard.map(({ kind }) => kind), { timeout: 5000 }).toContain("elsewhere");
    socket.close();
    await once(socket, "close");
  });

  test("the upgrade is refused for another Host, another Origin and another address", async () => {
    // The key and the answer to it are the example of RFC 6455, section 1.3.
    const good = await raw(upgrade({ Origin: `http://127.0.0.1:${port()}` }));
    expect(good).toContain("101 Switching Protocols");
    expect(good).toContain("s3pPLMBiTxaQ9kYGzzhZRbK+xOo=");
    expect(await raw(upgrade({ Host: "evil.example" }))).toMatch(/^HTTP\/1\.1 421/);
    expect(await raw(upgrade({ Origin: "http://evil.example" }))).toMatch(/^HTTP\/1\.1 403/);
    expect(await raw(upgrade({ Origin: "null" }))).toMatch(/^HTTP\/1\.1 403/);
    expect(await raw(upgrade({}).replace("/api/changes", "/api/players"))).not.toContain("101 Switching");
    const other = await raw(upgrade({ Upgrade: "h2c" }));
    expect(other).toMatch(/^HTTP\/1\.1 400/);
    expect(other).toContain("WebSocket only");
  });

  test("what is no HTTP, and an address without end, are 4xx", async () => {
    expect(await raw("nonsense\r\n\r\n")).toMatch(/^HTTP\/1\.1 400/);
    expect(await raw(`GET /${"a".repeat(100_000)} HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n`)).toMatch(
      /^HTTP\/1\.1 4(14|31)/,
    );
    expect((await post("P03")).status).toBe(201);
  });

  test("a body that says it is larger than allowed is refused before it is sent", async () => {
    const headers = `Host: 127.0.0.1:${port()}\r\nContent-Type: application/json\r\nContent-Length: 2000000\r\n`;
    expect(await raw(`POST /api/players HTTP/1.1\r\n${headers}\r\n{`)).toMatch(/^HTTP\/1\.1 413/);
    const chunked = `Host: 127.0.0.1:${port()}\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n`;
    const chunk = `${(1_100_000).toString(16)}\r\n${" ".repeat(1_100_000)}\r\n`;
    expect(await raw(`POST /api/players HTTP/1.1\r\n${chunked}\r\n${chunk}`)).toMatch(/^HTTP\/1\.1 413/);
  });
});
