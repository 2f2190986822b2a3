import { createAdaptorServer } from "@hono/node-server";
import { UnderfootError } from "@underfoot/domain";
import type { Hono } from "hono";

export interface Listening {
  readonly address: string;
  close(): Promise<void>;
}

/** Listens on loopback. Port 0 takes any free one; a taken port is a sentence, not a stack trace. */
export function listening(app: Hono, port: number): Promise<Listening> {
  const server = createAdaptorServer({ fetch: app.fetch });
  return new Promise((resolve, reject) => {
    server.once("error", (cause: NodeJS.ErrnoException) => {
      const why = cause.code === "EADDRINUSE" ? "is taken by another program" : `cannot be used (${cause.code})`;
      reject(
        new UnderfootError({
          code: "port",
          sentence: `Port ${port} on this machine ${why}.`,
          remedy: "Choose another with --port, or --port 0 for any free one.",
          cause,
        }),
      );
    });
    server.listen(port, "127.0.0.1", () => {
      const bound = server.address();
      const boundPort = typeof bound === "object" && bound ? bound.port : port;
      const close = (): Promise<void> =>
        new Promise((done) => {
          server.close(() => done());
          if ("closeAllConnections" in server) server.closeAllConnections();
        });
      resolve({ address: `http://127.0.0.1:${boundPort}/`, close });
    });
  });
}
