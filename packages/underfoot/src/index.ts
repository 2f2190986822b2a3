// The whole of Underfoot as a library that runs in a browser or in Node: bytes in, measures out.
// Adds nothing of its own; files and the command stand beside it in `main.ts`.
export { type Finding, UnderfootError, VERSION } from "@underfoot/domain";
export { recordingFromBytes, shotFactsFromSidecar } from "@underfoot/formats";
export { DEFAULT_SETTINGS, measuresFromShot, shotFromRecording } from "@underfoot/mechanics";
export { inspection, labSignals, playerSignals, shotOutcome } from "@underfoot/pipeline";
