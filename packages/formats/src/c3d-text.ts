/** Bytes of continuation and smallest value of a UTF-8 sequence, by its first byte; undefined where none may start so. */
function sequence(first: number): readonly [count: number, bits: number, smallest: number] | undefined {
  if (first < 0x80) return [0, first, 0];
  if (first >= 0xc2 && first < 0xe0) return [1, first & 31, 0x80];
  if (first >= 0xe0 && first < 0xf0) return [2, first & 15, 0x800];
  if (first >= 0xf0 && first < 0xf5) return [3, first & 7, 0x10000];
  return undefined;
}

function fromUtf8(bytes: Uint8Array): string | undefined {
  let text = "";
  for (let i = 0; i < bytes.length; ) {
    const start = sequence(bytes[i++] as number);
    if (start === undefined) return undefined;
    let code = start[1];
    for (let k = 0; k < start[0]; k++) {
      const next = bytes[i++];
      if (next === undefined || (next & 0xc0) !== 0x80) return undefined;
      code = (code << 6) | (next & 63);
    }
    if (code < start[2] || code > 0x10ffff || (code >= 0xd800 && code < 0xe000)) return undefined;
    text += String.fromCodePoint(code);
  }
  return text;
}

/** A text of fixed width: cut at the first 0, read as UTF-8, else as Latin-1, blanks at the end dropped. */
export function fixedText(bytes: Uint8Array): string {
  const end = bytes.indexOf(0);
  const letters = end < 0 ? bytes : bytes.subarray(0, end);
  const text = fromUtf8(letters) ?? Array.from(letters, (byte) => String.fromCharCode(byte)).join("");
  return text.trimEnd();
}
