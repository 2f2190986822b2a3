import { UnderfootError } from "@underfoot/domain";
import type { Context, ErrorHandler } from "hono";
import { HTTPException } from "hono/http-exception";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { serverFaults } from "./faults.ts";

const STATUS: Readonly<Record<string, ContentfulStatusCode>> = {
  "nothing-here": 404,
  "no-job": 404,
  "no-facts": 404,
  "library-not-there": 404,
  "wrong-method": 405,
  "library-taken": 409,
  "library-in-use": 409,
  "library-changed-since": 409,
  "library-already-undone": 409,
  "library-not-empty": 409,
  "library-cancelled": 409,
  "job-running": 409,
  "job-ended": 409,
  "code-differs": 409,
  "file-there": 409,
  "other-things": 409,
  "demo-stays": 409,
  "too-large": 413,
  "wrong-media": 415,
  "host-refused": 421,
  "origin-refused": 403,
  "not-a-socket": 400,
  "wrong-request": 400,
  "not-json": 400,
  "too-deep": 400,
  "null-character": 400,
  "not-form": 400,
  "our-fault": 500,
  "not-remembered": 503,
  "library-wrong": 400,
  "shot-query": 400,
  "library-disk-full": 503,
  "library-read-only": 503,
  "library-unwritable": 503,
  "library-unreadable": 503,
  "library-busy": 503,
  "library-unreachable": 503,
  "library-recording-lost": 503,
  "library-damaged": 503,
};

/** What the library or a reader will not take is 422: it was understood, and it cannot be done. */
const ELSE = 422;

/** The answer that a fault becomes. */
export function refusal(c: Context, fault: UnderfootError): Response {
  const { code, message: sentence, remedy } = fault;
  return c.json({ code, sentence, ...(remedy === "" ? {} : { remedy }) }, STATUS[code] ?? ELSE);
}

/** Refusals of the framework's own checks, in our words. */
function ofFramework(fault: HTTPException): UnderfootError {
  if (fault.status === 415) return serverFaults.wrongMedia("what was sent", "what GET /api says of it");
  if (fault.message.includes("FormData")) return serverFaults.notForm();
  if (fault.message.includes("JSON")) return serverFaults.notJson("it is malformed");
  return serverFaults.wrongRequest("What was sent cannot be read.");
}

/** @param log  told of what is our own fault */
export function refusals(log: (fault: Error) => void): ErrorHandler {
  return (fault, c) => {
    if (fault instanceof UnderfootError) return refusal(c, fault);
    if (fault instanceof HTTPException && fault.status < 500) return refusal(c, ofFramework(fault));
    log(fault);
    return refusal(c, serverFaults.ourFault());
  };
}
