// npm run bench -- NAME [options]: runs bench/NAME.ts; its result is the last line on standard output, one JSON object.
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { UnderfootError } from "../packages/domain/src/index.ts";

const NOT_PROGRAMS = new Set(["run.ts", "input.ts"]);
const [name = "", ...args] = process.argv.slice(2);
const names = readdirSync(import.meta.dirname)
  .filter((file) => file.endsWith(".ts") && !file.endsWith(".test.ts") && !NOT_PROGRAMS.has(file))
  .map((file) => file.slice(0, -3));

if (!names.includes(name) || !existsSync(join(import.meta.dirname, `${name}.ts`))) {
  console.error(`There is no bench program "${name}". Choose one of: ${names.join(", ")}.`);
  process.exitCode = 2;
} else {
  try {
    const program = (await import(`./${name}.ts`)) as { run(args: string[]): Promise<object> };
    console.log(JSON.stringify(await program.run(args)));
  } catch (fault) {
    if (!(fault instanceof UnderfootError)) throw fault;
    console.error(`${fault.message} ${fault.remedy}`);
    process.exitCode = 1;
  }
}
