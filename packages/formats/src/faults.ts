import { UnderfootError, type Where } from "@underfoot/domain";

const named = (where: Where): string => where.file ?? "This file";

/** Every reason for which a C3D file cannot be read at all. What is wrong with one plate only is in `c3dFindings`. */
export const c3dFaults = {
  empty: (where: Where): UnderfootError =>
    new UnderfootError({
      code: "empty",
      sentence: `${named(where)} is empty: it has 0 bytes.`,
      remedy: "Copy or export the recording again.",
      where,
    }),
  shortHeader: (where: Where, size: number): UnderfootError =>
    new UnderfootError({
      code: "short-header",
      sentence: `${named(where)} has ${size} bytes; the header of a C3D file alone takes 512.`,
      remedy: "Copy or export the recording again; this copy was cut off.",
      where,
    }),
  notC3d: (where: Where, key: number): UnderfootError =>
    new UnderfootError({
      code: "not-c3d",
      sentence: `${named(where)} is not a C3D file: its second byte is ${key}, where every C3D file has 80.`,
      remedy: "If it is a table of numbers, bring it in as delimited text; else export it as C3D again.",
      where,
    }),
  paramBlockOutside: (where: Where, block: number, blocks: number): UnderfootError =>
    new UnderfootError({
      code: "param-block-outside",
      sentence: `${named(where)} points to block ${block} for its parameters, but they must lie in blocks 2 to ${blocks}.`,
      remedy: "Copy or export the recording again; the file is damaged or cut off.",
      where,
    }),
  processor: (where: Where, byte: number): UnderfootError =>
    new UnderfootError({
      code: "processor",
      sentence: `${named(where)} names processor ${byte}; 84, 85 and 86 are known, and its header makes sense in none of their number formats.`,
      remedy: "Export the recording again with Intel numbers (processor 84).",
      where,
    }),
  dataBlock: (where: Where, block: number, blocks: number): UnderfootError =>
    new UnderfootError({
      code: "data-block",
      sentence: `${named(where)} says that its data begin at block ${block}, but the file has ${blocks} blocks and no other pointer fits.`,
      remedy: "Copy or export the recording again; the file is damaged or cut off.",
      where,
    }),
  frames: (where: Where): UnderfootError =>
    new UnderfootError({
      code: "frames",
      sentence: `${named(where)} does not say how many frames it has, and the bytes do not tell either.`,
      remedy: "Export the recording again.",
      where,
    }),
  noData: (where: Where): UnderfootError =>
    new UnderfootError({
      code: "no-data",
      sentence: `${named(where)} has neither points nor analog channels.`,
      remedy: "Export the recording with its analog channels.",
      where,
    }),
  truncated: (where: Where, announced: number, bytes: number, needed: number): UnderfootError =>
    new UnderfootError({
      code: "truncated",
      sentence: `${named(where)} announces ${announced} frames of ${needed} bytes, but only ${bytes} bytes of data are there: not one whole frame.`,
      remedy: "Copy or export the recording again; this copy was cut off.",
      where,
    }),
} as const;
