/** The command was called the wrong way: one sentence, exit code 2. */
export class UsageFault extends Error {
  override readonly name: string = "UsageFault";
}
