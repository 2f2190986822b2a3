import type { z } from "@hono/zod-openapi";
import { compareRoutes } from "./compare-routes.ts";
import { keepingRoutes } from "./keeping-routes.ts";
import { peopleRoutes } from "./people-routes.ts";
import { sessionRoutes } from "./session-routes.ts";
import { shotRoutes } from "./shot-routes.ts";

/** Every address of the server by the name of what it does. */
export const routes = { ...compareRoutes, ...keepingRoutes, ...peopleRoutes, ...sessionRoutes, ...shotRoutes } as const;
export type Routes = typeof routes;

type AnyRoute = Routes[keyof Routes];

/** Method and path as one text: "get /api/players/{id}". */
export type Address = { [N in keyof Routes]: `${Routes[N]["method"]} ${Routes[N]["path"]}` }[keyof Routes];
type RouteAt<A extends Address> = Extract<AnyRoute, { method: MethodOf<A>; path: PathOf<A> }>;
type MethodOf<A> = A extends `${infer M} ${string}` ? M : never;
type PathOf<A> = A extends `${string} ${infer P}` ? P : never;

type Json<R> = R extends { content: { "application/json": { schema: infer S extends z.ZodType } } } ? S : never;
type Parts<R> = R extends { request: infer Q } ? Q : Record<never, never>;

/** What has to be given: parts of the path, the query, the body. */
export type Ask<A extends Address> = (Parts<RouteAt<A>> extends { params: infer P extends z.ZodType }
  ? { readonly params: z.input<P> }
  : { readonly params?: never }) &
  (Parts<RouteAt<A>> extends { query: infer Q extends z.ZodType }
    ? { readonly query?: QueryIn<z.output<Q>> }
    : { readonly query?: never }) &
  (Parts<RouteAt<A>> extends { body: infer B }
    ? Json<B> extends never
      ? { readonly form: FormData }
      : { readonly json: z.input<Json<B>> }
    : { readonly json?: never });

type QueryIn<Q> = { readonly [K in keyof Q]: Q[K] };

type Good<R> = R extends { responses: infer S }
  ? S extends { 200: infer G }
    ? G
    : S extends { 201: infer C }
      ? C
      : never
  : never;

/** What comes back. */
export type Answer<A extends Address> = z.output<Json<Good<RouteAt<A>>>>;
