// Bytes to recordings and back: C3D, delimited text, the sidecar. Knows no mechanics, no path and no clock.
export { c3dBytes } from "./c3d-bytes.ts";
export type { C3dContent, C3dEvent, C3dExtra, C3dFacts, C3dPlate } from "./c3d-content.ts";
