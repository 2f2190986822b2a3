import type { BringProgress, BroughtFile } from "./bringing.ts";

const many = (count: number): string => count.toLocaleString("en-GB");
export const counted = (count: number, one: string, more: string = `${one}s`): string =>
  `${many(count)} ${count === 1 ? one : more}`;

type Shot = BroughtFile["brought"]["shots"][number];
/** New, or back again after it was taken out. */
const isNew = ({ isDuplicate, isBroughtBack }: Shot): boolean => !isDuplicate || isBroughtBack === true;
const newShots = ({ brought }: BroughtFile): number => brought.shots.filter(isNew).length;
const isKnown = (file: BroughtFile): boolean => newShots(file) === 0;

/** Ids of the shots that are in the library by these files. */
export function newShotIds({ brought }: BringProgress): readonly string[] {
  return brought.flatMap(({ brought: { shots } }) =>
    shots.flatMap((shot) => (shot.shotId !== undefined && isNew(shot) ? [shot.shotId] : [])),
  );
}

/** "812 of 2,000, 14 known already, 3 with problems". */
export function progressText({ total, brought, problems }: BringProgress): string {
  const known = brought.filter(isKnown).length;
  return [
    `${many(brought.length + problems.length)} of ${many(total)}`,
    ...(known > 0 ? [`${many(known)} known already`] : []),
    ...(problems.length > 0 ? [`${many(problems.length)} with problems`] : []),
  ].join(", ");
}

/** "1,963 shots brought in; 37 files could not be." */
export function endText(progress: BringProgress): string {
  const { brought, problems, isDryRun, left } = progress;
  const shots = brought.reduce((total, file) => total + newShots(file), 0);
  const known = brought.filter(isKnown).length;
  const back = brought.flatMap(({ brought: { shots: all } }) => all).filter((shot) => shot.isBroughtBack).length;
  const done = isDryRun ? `${counted(shots, "shot")} could be brought in` : `${counted(shots, "shot")} brought in`;
  const parts = [
    done,
    ...(back > 0 ? [backText(back, shots)] : []),
    ...(known > 0 ? [`${counted(known, "file was", "files were")} known already`] : []),
    ...(problems.length > 0 ? [`${counted(problems.length, "file")} could not be`] : []),
    ...(left.length > 0 ? [`${counted(left.length, "file")} not looked at`] : []),
  ];
  return `${parts.join("; ")}.${isDryRun ? " Nothing was stored." : ""}`;
}

function backText(back: number, shots: number): string {
  if (shots === 1) return "it had been taken out and is back as it was";
  return `${back === shots ? "all" : many(back)} of them had been taken out and are back as they were`;
}

/** Minutes and seconds from the first sample: 00:41. */
function clockText(timeS: number): string {
  const whole = Math.round(timeS);
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${two(Math.floor(whole / 60))}:${two(whole % 60)}`;
}

/** "session.c3d: 14 shots found between 00:41 and 38:20", for each file with more than one. */
export function severalShots({ brought }: BringProgress): readonly string[] {
  return brought.flatMap(({ recording, rateHz, brought: { shots } }) => {
    if (shots.length < 2) return [];
    const timesS = shots.map(({ impactS, stretch }) => impactS ?? (stretch.first + stretch.end) / 2 / rateHz);
    const span = timesS.every(Number.isFinite)
      ? ` between ${clockText(Math.min(...timesS))} and ${clockText(Math.max(...timesS))} (min:s)`
      : "";
    return [`${recording.path}: ${counted(shots.length, "shot")} found${span}`];
  });
}

/** What was said of files that are in, each sentence once with how many files it holds for. */
export function findingsByCode({ brought }: BringProgress): readonly {
  readonly code: string;
  readonly severity: "note" | "caution" | "stop";
  readonly sentence: string;
  readonly remedy: string;
  readonly files: readonly string[];
}[] {
  const RANK = { stop: 0, caution: 1, note: 2 } as const;
  const byCode = new Map<
    string,
    { severity: "note" | "caution" | "stop"; sentence: string; remedy: string; files: Set<string> }
  >();
  for (const {
    recording,
    brought: { findings },
  } of brought) {
    for (const { code, severity, sentence, remedy } of findings) {
      const known = byCode.get(code) ?? { severity, sentence, remedy, files: new Set<string>() };
      known.files.add(recording.path);
      byCode.set(code, known);
    }
  }
  return [...byCode]
    .map(([code, { files, ...rest }]) => ({ code, ...rest, files: [...files] }))
    .sort((a, b) => RANK[a.severity] - RANK[b.severity]);
}
