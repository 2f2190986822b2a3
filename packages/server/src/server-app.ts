import { upgradeWebSocket } from "@hono/node-server";
import { OpenAPIHono, type RouteConfig } from "@hono/zod-openapi";
import type { Library } from "@underfoot/library";
import { routes } from "@underfoot/protocol";
import type { MiddlewareHandler } from "hono";
import type { WebSocket } from "ws";
import { aboutApi } from "./api/about.ts";
import type { ApiEnv } from "./api/api-room.ts";
import { checksApi } from "./api/checks.ts";
import { clubsApi } from "./api/clubs.ts";
import { compareApi } from "./api/compare.ts";
import { historyApi } from "./api/history.ts";
import { jobsApi } from "./api/jobs.ts";
import { layoutsApi } from "./api/layouts.ts";
import { mappingsApi } from "./api/mappings.ts";
import { measuresApi } from "./api/measures.ts";
import { playersApi } from "./api/players.ts";
import { recordingsApi } from "./api/recordings.ts";
import { sessionsApi } from "./api/sessions.ts";
import { settingsApi } from "./api/settings.ts";
import { shotsApi } from "./api/shots.ts";
import { type ChangeHub, changeHub, messageOf } from "./change-hub.ts";
import { docsPage } from "./docs/docs-page.ts";
import { apiDocument } from "./docs/open-api.ts";
import { type Jobs, jobs } from "./keeping/jobs.ts";
import { watching } from "./keeping/watch.ts";
import { type LibrarySeat, librarySeat } from "./library-seat.ts";
import type { PageFiles } from "./page/page-files.ts";
import { cleanAddress, formBody, jsonBody, noBody } from "./refusals/bounded-body.ts";
import { serverFaults } from "./refusals/faults.ts";
import { localOnly } from "./refusals/local-only.ts";
import { refusal, refusals } from "./refusals/refusal.ts";

export interface ServerOptions {
  /** Open; the server closes it. */
  readonly library: Library;
  readonly page: PageFiles;
  /** Everything in the library is invented, and it stays in its place. */
  readonly isDemo: boolean;
  /** Opens, or makes, the library of another folder that is chosen as storage place. */
  readonly open: (folder: string) => Promise<Library>;
  /** Keeps that folder for every later start. */
  readonly remember: (folder: string) => Promise<void>;
  /** ms since 1970. */
  readonly clock?: () => number;
  /** Told of our own faults. */
  readonly log?: (fault: Error) => void;
  /** Told in one sentence what the server could not do by itself. */
  readonly warn?: (sentence: string) => void;
}

export interface ServerApp {
  readonly app: OpenAPIHono<ApiEnv>;
  /** Begins what the server does by itself: the daily backup, a look for what other programs changed. */
  watch(): void;
  /** Cancels long work, lets requests end, and closes the library. */
  close(): Promise<void>;
}

/** The body a route takes decides what is looked at before it is read. */
function bodyGuards(route: Pick<RouteConfig, "method" | "request">): readonly MiddlewareHandler[] {
  const content = route.request?.body?.content ?? {};
  if ("application/json" in content) return jsonBody;
  return "multipart/form-data" in content ? formBody : noBody;
}

/** Methods by path, as the protocol has them. */
function methodsByPath(): ReadonlyMap<string, readonly string[]> {
  const methods = new Map<string, string[]>(
    ["/api", "/api/openapi.json", "/api/changes"].map((path) => [path, ["GET"]]),
  );
  for (const route of Object.values(routes)) {
    const path = route.getRoutingPath();
    methods.set(path, [...(methods.get(path) ?? []), route.method.toUpperCase()]);
  }
  return methods;
}

/** A page that listens to the changes. */
const socketOfChanges = (hub: ChangeHub): MiddlewareHandler =>
  upgradeWebSocket(() => {
    let leave = (): void => undefined;
    return {
      onOpen: (_, socket) => {
        // The framework knows less of it than it is: listening.ts gives it the sockets of `ws`.
        const raw = socket.raw as WebSocket;
        leave = hub.join({
          waitingBytes: () => raw.bufferedAmount,
          send: (text) => raw.send(text),
          drop: () => raw.terminate(),
        });
      },
      onClose: () => leave(),
      onError: () => leave(),
    };
  });

function servePage(app: OpenAPIHono<ApiEnv>, page: PageFiles): void {
  app.get("*", (c) => {
    const file = page.get(c.req.path);
    if (!file) return refusal(c, serverFaults.nothingHere(c.req.path));
    const isNamedByContent = c.req.path.startsWith("/assets/");
    return c.body(file.bytes, 200, {
      "Content-Type": file.type,
      "Cache-Control": isNamedByContent ? "public, max-age=31536000, immutable" : "no-cache",
    });
  });
  app.all("*", (c) =>
    page.has(c.req.path)
      ? refusal(c, serverFaults.wrongMethod(c.req.method, c.req.path, ["GET"]))
      : refusal(c, serverFaults.nothingHere(c.req.path)),
  );
}

/** What stands before every address of the protocol, and the answer to a wrong method at each of them. */
function guardApi(app: OpenAPIHono<ApiEnv>, seat: LibrarySeat): void {
  app.use("/api/*", async (c, next) => {
    // The browser keeps no copy: who is forgotten here is not to be found there.
    c.header("Cache-Control", "no-store");
    await next();
  });
  for (const route of Object.values(routes))
    app.on([route.method], [route.getRoutingPath()], ...bodyGuards(route), async (c, next) => {
      await seat.use(async (library, keptOpen) => {
        c.set("library", library);
        c.set("keptOpen", keptOpen);
        await next();
      });
    });
}

/** Everything the server answers: the page, the library's addresses, the changes. */
export function serverApp(options: ServerOptions): ServerApp {
  const {
    library,
    page,
    isDemo,
    open,
    remember,
    clock = Date.now,
    log = console.error,
    warn = console.error,
  } = options;
  const seat = librarySeat(library, { open, remember });
  const hub = changeHub();
  seat.changes((change) => hub.tell(messageOf(change)));
  const work: Jobs = jobs({
    tell: ({ id, sentence }) => hub.tell({ kind: "job", id, deed: sentence }),
    log,
    clock,
  });
  const app = new OpenAPIHono<ApiEnv>();
  app.onError(refusals(log));
  app.use(localOnly, cleanAddress);
  guardApi(app, seat);
  const onMoved = (folder: string): void =>
    hub.tell({ kind: "place", id: "", deed: `opened the library at ${folder}` });
  for (const api of [
    aboutApi({ seat, isDemo, clock, onMoved }),
    playersApi(),
    clubsApi(),
    layoutsApi(),
    sessionsApi(),
    checksApi(),
    shotsApi(),
    measuresApi(),
    compareApi(),
    recordingsApi(log),
    mappingsApi(),
    settingsApi(),
    jobsApi({ jobs: work, clock }),
    historyApi(),
  ])
    app.route("/", api);
  app.get("/api/changes", socketOfChanges(hub), (c) => refusal(c, serverFaults.notUpgraded()));
  const document = apiDocument();
  app.get("/api/openapi.json", (c) => c.json(document));
  const docs = docsPage(document);
  app.get("/api", (c) => c.html(docs));
  for (const [path, methods] of methodsByPath())
    app.all(path, (c) => {
      c.header("Allow", methods.join(", "));
      return refusal(c, serverFaults.wrongMethod(c.req.method, c.req.path, methods));
    });
  servePage(app, page);
  let stopWatching = async (): Promise<void> => undefined;
  return {
    app,
    watch: () => {
      stopWatching = watching({ seat, hub, isBackedUp: !isDemo, warn });
    },
    close: async () => {
      await stopWatching();
      await work.close();
      await seat.close();
    },
  };
}
