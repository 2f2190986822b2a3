// Serves the page and a folder of recordings to this machine's own browser. Parses, calls, sends; computes nothing.

export { type Listening, listening } from "./listening.ts";
export { localOnly } from "./local-only.ts";
export { type PageFiles, pageFiles } from "./page-files.ts";
export { type RecordingEntry, type RecordingFolder, recordingFolder } from "./recording-folder.ts";
export { serverApp } from "./server-app.ts";
