import { UnderfootError } from "@underfoot/domain";

const bridge = "Mend the bridge: docs/formats/stream.md says how its bytes are laid out.";
const link = "Nothing to do for a single one; if it goes on, check the cable or network, then the bridge.";

const fault = (code: string, sentence: string, remedy: string, cause?: unknown): UnderfootError =>
  new UnderfootError({ code, sentence, remedy, ...(cause === undefined ? {} : { cause }) });

const hex = (value: number): string => `0x${value.toString(16).toUpperCase().padStart(8, "0")}`;

/** Every reason for which bytes of a live stream are not taken. */
export const streamFaults = {
  magic: (): UnderfootError =>
    fault("stream-magic", "A block of the live stream does not begin with the four letters UFB1.", link),
  length: (bytes: number, expected: string): UnderfootError =>
    fault("stream-length", `A block of the live stream has ${bytes} bytes; expected ${expected}.`, link),
  header: (bytes: number): UnderfootError =>
    fault("stream-header", `A block of the live stream names a header of ${bytes} bytes; it has at least 40.`, bridge),
  format: (format: number): UnderfootError =>
    fault(
      "stream-format",
      `A block of the live stream names number format ${format}; known are 1 (int16), 2 (int32) and 3 (float32).`,
      bridge,
    ),
  channels: (channels: number): UnderfootError =>
    fault("stream-channels", `A block of the live stream has ${channels} channels; 1 to 64 are possible.`, bridge),
  samples: (samples: number): UnderfootError =>
    fault("stream-samples", `A block of the live stream has ${samples} samples; 1 to 65535 are possible.`, bridge),
  number: (what: string, value: number | bigint): UnderfootError =>
    fault("stream-number", `A block of the live stream has ${what} ${value}, which is outside its range.`, bridge),
  crc: (written: number, found: number): UnderfootError =>
    fault(
      "stream-crc",
      `A block of the live stream was damaged: its checksum is ${hex(written)}, its bytes give ${hex(found)}.`,
      link,
    ),
  datagram: (byte: number | undefined): UnderfootError =>
    fault(
      "stream-datagram",
      byte === undefined
        ? "A packet of the live stream is empty."
        : `A packet of the live stream begins with byte ${byte}; a message begins with 123 and a block with 85.`,
      bridge,
    ),
  json: (cause?: unknown): UnderfootError =>
    fault("stream-json", "A message of the live stream is not a JSON object with a type.", bridge, cause),
  long: (characters: number, most: number): UnderfootError =>
    fault(
      "stream-long",
      `A message of the live stream has ${characters} characters; at most ${most} are taken.`,
      bridge,
    ),
  field: (type: string, path: string, sentence: string): UnderfootError =>
    fault("stream-field", `In a ${type} message of the live stream ${path} ${sentence}.`, bridge),
  version: (protocol: string, version: string): UnderfootError =>
    fault(
      "stream-version",
      `The bridge speaks ${protocol} version ${version}; Underfoot speaks underfoot-stream version 1.`,
      "Take a bridge and an Underfoot that speak the same version.",
    ),
} as const;
