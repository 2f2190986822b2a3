// Serves the page and a library to this machine's own browser. Parses, calls, sends; computes nothing.

export { apiDocumentText } from "./docs/open-api.ts";
export { type Listening, listening } from "./listening.ts";
export { type PageFiles, pageFiles } from "./page/page-files.ts";
export { type ServerApp, type ServerOptions, serverApp } from "./server-app.ts";
