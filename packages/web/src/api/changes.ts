import type { ChangeMessage } from "@underfoot/protocol";
import { reach } from "./reach.ts";

type Listener = (change: ChangeMessage) => void;

const listeners = new Set<Listener>();
let socket: WebSocket | undefined;

const tell = (change: ChangeMessage): void => {
  for (const listener of [...listeners]) listener(change);
};

function connect(): void {
  const opened = new WebSocket(`ws://${location.host}/api/changes`);
  socket = opened;
  opened.onopen = () => {
    reach.note(true);
    // What changed between the page's first questions and now was told to nobody.
    tell({ kind: "elsewhere", id: "", deed: "listens from now on" });
  };
  opened.onmessage = ({ data }: MessageEvent<string>) => tell(JSON.parse(data) as ChangeMessage);
  opened.onclose = () => {
    if (socket !== opened) return;
    socket = undefined;
    reach.note(false);
  };
}

/** The server is there again: what was missed meanwhile is asked anew. */
reach.follow(() => {
  if (!reach.isReached() || listeners.size === 0) return;
  if (socket === undefined) connect();
  tell({ kind: "elsewhere", id: "", deed: "found the server again" });
});

/** Told of every change of the library, by whomever. @returns stops the telling */
export function onChanges(listener: Listener): () => void {
  listeners.add(listener);
  if (socket === undefined) connect();
  return () => {
    listeners.delete(listener);
    if (listeners.size > 0) return;
    const unused = socket;
    socket = undefined;
    unused?.close();
  };
}
