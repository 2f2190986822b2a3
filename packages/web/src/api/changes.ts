import type { ChangeMessage } from "@underfoot/protocol";

type Listener = (change: ChangeMessage) => void;

const listeners = new Set<Listener>();
let socket: WebSocket | undefined;

/** After a lost connection, ms: the server may be starting again. */
const AGAIN_AFTER_MS = 2000;

function connect(): void {
  const opened = new WebSocket(`ws://${location.host}/api/changes`);
  socket = opened;
  opened.onmessage = ({ data }: MessageEvent<string>) => {
    const change = JSON.parse(data) as ChangeMessage;
    for (const listener of [...listeners]) listener(change);
  };
  opened.onclose = () => {
    socket = undefined;
    if (listeners.size > 0) setTimeout(() => listeners.size > 0 && socket === undefined && connect(), AGAIN_AFTER_MS);
  };
}

/** Told of every change of the library, by whomever. @returns stops the telling */
export function onChanges(listener: Listener): () => void {
  listeners.add(listener);
  if (socket === undefined) connect();
  return () => {
    listeners.delete(listener);
    if (listeners.size === 0) socket?.close();
  };
}
