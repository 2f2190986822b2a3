/** The same object without its undefined fields: absent means absent, in memory as in JSON. */
export function present<T extends object>(fields: { readonly [K in keyof T]: T[K] | undefined }): T {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as T;
}
