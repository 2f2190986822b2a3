/** Where the sidecar of a recording is looked for, beside it; the first one found counts. */
export function sidecarNamesFor(file: string): readonly [string, string] {
  const stem = file.replace(/\.[^./\\]*$/, "");
  return [`${stem}.shot.json`, `${stem}.underfoot.json`];
}
