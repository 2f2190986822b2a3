import type { Duplex } from "node:stream";
import { createAdaptorServer, type WebSocketServerLike } from "@hono/node-server";
import { UnderfootError } from "@underfoot/domain";
import { WebSocketServer } from "ws";
import type { ServerApp } from "./server-app.ts";

export interface Listening {
  readonly address: string;
  /** Takes no more requests and cuts off what still listens. The library stays open: `ServerApp.close`. */
  close(): Promise<void>;
}

/** Pages only listen: whatever one of them says is not needed, and never long. */
const MOST_SAID_BYTES = 1024;

const portFault = (port: number, cause: NodeJS.ErrnoException): UnderfootError =>
  new UnderfootError({
    code: "port",
    sentence: `Port ${port} on this machine ${cause.code === "EADDRINUSE" ? "is taken by another program" : `cannot be used (${cause.code})`}.`,
    remedy: "Choose another with --port, or --port 0 for any free one.",
    cause,
  });

/** Bytes that are no request, or one with an address without end: refused in a sentence too. */
function refuseUnparsed(fault: NodeJS.ErrnoException, socket: Duplex): void {
  if (fault.code === "ECONNRESET" || !socket.writable) return void socket.destroy();
  const isLong = fault.code === "HPE_HEADER_OVERFLOW";
  const body = JSON.stringify({
    code: isLong ? "too-large" : "not-http",
    sentence: isLong ? "The address or the head of the request is too long." : "What was sent is no HTTP request.",
  });
  const status = isLong ? "431 Request Header Fields Too Large" : "400 Bad Request";
  socket.end(
    `HTTP/1.1 ${status}\r\nContent-Type: application/json\r\nContent-Length: ${body.length}\r\nConnection: close\r\n\r\n${body}`,
  );
}

/** Listens on loopback. Port 0 takes any free one; a taken port is a sentence, not a stack trace. */
export function listening({ app }: ServerApp, port: number): Promise<Listening> {
  const sockets = new WebSocketServer({ noServer: true, perMessageDeflate: false, maxPayload: MOST_SAID_BYTES });
  // The two packages' types differ in one optional field.
  const server = createAdaptorServer({
    fetch: app.fetch,
    websocket: { server: sockets as WebSocketServerLike },
    // What asks for another protocol is answered as any request: nobody would take such a socket up.
    serverOptions: { shouldUpgradeCallback: ({ headers }) => headers.upgrade?.toLowerCase() === "websocket" },
  });
  server.on("clientError", refuseUnparsed);
  return new Promise((resolve, reject) => {
    server.once("error", (cause: NodeJS.ErrnoException) => reject(portFault(port, cause)));
    server.listen(port, "127.0.0.1", () => {
      const bound = server.address();
      const boundPort = typeof bound === "object" && bound ? bound.port : port;
      const close = (): Promise<void> =>
        new Promise((done) => {
          for (const socket of sockets.clients) socket.terminate();
          server.close(() => done());
          if ("closeAllConnections" in server) server.closeAllConnections();
        });
      resolve({ address: `http://127.0.0.1:${boundPort}/`, close });
    });
  });
}
