import { expect, test } from "vitest";
import { routes } from "./routes.ts";

interface AnyRoute {
  readonly method: string;
  readonly path: string;
  readonly summary?: string;
  readonly request?: { readonly params?: { readonly shape: Readonly<Record<string, unknown>> } };
}

const all = Object.values(routes) as unknown as readonly AnyRoute[];

test("every address stands once, below /api, with a summary", () => {
  const addresses = all.map(({ method, path }) => `${method} ${path}`);
  expect(new Set(addresses).size).toBe(addresses.length);
  expect(addresses.length).toBeGreaterThan(40);
  for (const { path, summary } of all) {
    expect(path).toMatch(/^\/api\/[a-z{}A-Z/-]+$/);
    expect(summary?.length).toBeGreaterThan(5);
  }
});

test("what stands in a path's braces is what is parsed, no more and no less", () => {
  for (const { path, request } of all) {
    const named = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
    expect(Object.keys(request?.params?.shape ?? {}), path).toEqual(named);
  }
});
