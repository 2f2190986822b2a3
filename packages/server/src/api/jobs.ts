import { routes } from "@underfoot/protocol";
import { backupWork, recomputeWork, restoreWork, verifyWork } from "../keeping/job-works.ts";
import type { Jobs, JobWork } from "../keeping/jobs.ts";
import type { KeptOpen } from "../library-seat.ts";
import { apiRoom } from "./api-room.ts";
import { given, sent } from "./shapes-between.ts";

interface JobsOptions {
  readonly jobs: Jobs;
  readonly clock: () => number;
}

/** The library stays open until the work has ended, wherever the page goes meanwhile. */
const seated = (keptOpen: KeptOpen, work: JobWork): JobWork => ({
  ...work,
  run: (options) => keptOpen(() => work.run(options)),
});

export const jobsApi = ({ jobs, clock }: JobsOptions) =>
  apiRoom()
    .openapi(routes.listBackups, async (c) => c.json(sent(await c.var.library.backups()), 200))
    .openapi(routes.listJobs, (c) => c.json(sent(jobs.list()), 200))
    .openapi(routes.startJob, async (c) => {
      const { library, keptOpen } = c.var;
      const ask = given(c.req.valid("json"));
      switch (ask.kind) {
        case "backup":
          return c.json(sent(jobs.start(seated(keptOpen, await backupWork(library, ask.file, clock)))), 201);
        case "restore":
          return c.json(sent(jobs.start(restoreWork(ask.file, ask.folder))), 201);
        case "verify":
          return c.json(sent(jobs.start(seated(keptOpen, verifyWork(library, ask.mend ?? false)))), 201);
        case "recompute": {
          const { kind: _, ...asked } = ask;
          return c.json(sent(jobs.start(seated(keptOpen, recomputeWork(library, asked)))), 201);
        }
      }
    })
    .openapi(routes.readJob, (c) => c.json(sent(jobs.byId(c.req.valid("param").id)), 200))
    .openapi(routes.cancelJob, (c) => c.json(sent(jobs.cancel(c.req.valid("param").id)), 200));
