import { UnderfootError, type Where } from "@underfoot/domain";

const fileOf = (where: Where): string => where.file ?? "The file";

/** Every fault of a file whose content is not what its name promises. */
export const readingFaults = {
  textNamedC3d: (where: Where, cause?: unknown): UnderfootError =>
    new UnderfootError({
      code: "not-c3d",
      sentence: `${fileOf(where)} is named as C3D but holds ${cause === undefined ? "delimited text" : "text"}.`,
      remedy:
        cause === undefined
          ? "Give it the ending .txt or .csv and bring it in again."
          : "It is no recording that can be read: export it again as C3D.",
      where,
      cause,
    }),
  neitherNamedC3d: (where: Where, cause: unknown): UnderfootError =>
    new UnderfootError({
      code: "not-c3d",
      sentence: `${fileOf(where)} is named as C3D but is neither C3D nor text.`,
      remedy: "It is no recording that can be read: export it again as C3D.",
      where,
      cause,
    }),
  pictureNamedC3d: (where: Where): UnderfootError =>
    new UnderfootError({
      code: "not-c3d",
      sentence: `${fileOf(where)} is named as C3D but holds a PNG picture.`,
      remedy: "Find the recording itself and bring that in.",
      where,
    }),
} as const;
