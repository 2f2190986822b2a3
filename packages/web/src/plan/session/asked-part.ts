/**
 * A part to be changed as it goes over the line: what a person emptied is undefined here and null there, which takes
 * the value away.
 *
 * @typeParam J  the shape of the address's body
 */
export function askedPart<J extends object>(part: { readonly [K in keyof J]?: J[K] | undefined }): J {
  return Object.fromEntries(Object.entries(part).map(([name, value]) => [name, value ?? null])) as J;
}
