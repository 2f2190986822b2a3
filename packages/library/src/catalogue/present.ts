/** The fields that are there: of a row's columns, those that are not null. */
export function present<T extends object>(fields: { readonly [K in keyof T]-?: T[K] | null | undefined }): T {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null && value !== undefined)) as T;
}
