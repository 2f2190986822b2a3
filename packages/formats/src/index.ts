// Bytes to recordings and back: C3D, delimited text, the sidecar. Knows no mechanics, no path and no clock.
export { c3dBytes } from "./c3d-bytes.ts";
export type { C3dContent, C3dEvent, C3dExtra, C3dFacts, C3dPlate } from "./c3d-content.ts";
export { c3dFindings } from "./c3d-findings.ts";
export { type C3dOptions, recordingFromC3d } from "./c3d-recording.ts";
export { type ColumnFingerprint, columnFingerprint } from "./column-fingerprint.ts";
export { columnMappingFromText, columnMappingText } from "./column-mapping.ts";
export type {
  ColumnMapping,
  ExtraColumn,
  LabAxis,
  MappedColumn,
  MappedPlate,
  PlateGives,
} from "./column-mapping-type.ts";
export { c3dFaults } from "./faults.ts";
export { mappingFaults } from "./mapping-faults.ts";
export { type MappingMatch, mappingFor, mappingMatches } from "./mapping-match.ts";
export { type MappingProposal, mappingProposal } from "./mapping-proposal.ts";
export { readingFaults } from "./reading-faults.ts";
export { type ReadingOptions, recordingFormat, recordingFromBytes } from "./recording-from-bytes.ts";
export { recordingFromText, type TextOptions } from "./recording-from-text.ts";
export { shotFactsFromSidecar } from "./sidecar.ts";
export { sidecarFaults } from "./sidecar-faults.ts";
export { type RecordingIdentity, sidecarFindings } from "./sidecar-findings.ts";
export { sidecarNamesFor } from "./sidecar-names.ts";
export { SIDECAR_SCHEMA } from "./sidecar-schema.ts";
export { sidecarText } from "./sidecar-text.ts";
export { textFaults } from "./text-faults.ts";
export type { Guess } from "./text-guess.ts";
export { type TextColumn, type TextLayout, type TextSniff, type TextTime, textSniff } from "./text-sniff.ts";
export type { BadRows } from "./text-table.ts";
export { TEXT_UNITS, type TextUnit, type UnitQuantity } from "./text-units.ts";
