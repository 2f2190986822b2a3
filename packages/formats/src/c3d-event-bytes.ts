import type { C3dEvent } from "./c3d-content.ts";
import { type C3dGroup, integers, reals, texts } from "./c3d-parameter-bytes.ts";

const HEADER_EVENTS = 18;
const MOST_EVENTS = 255;
/** Says that header event labels have four letters. */
const HEADER_EVENT_KEY = 12345;
const SHORT_LABELS: Readonly<Record<string, string>> = {
  address: "ADDR",
  start: "STRT",
  top: "TOP ",
  delivery: "DELV",
  impact: "IMPC",
  finish: "FIN ",
};

/** The groups EVENT and EVENT_CONTEXT: times as minutes and seconds from frame 1; the first 255 events. */
export function eventGroups(events: readonly C3dEvent[]): C3dGroup[] {
  const kept = events.slice(0, MOST_EVENTS);
  const times = kept.flatMap(({ timeS }) => [Math.floor(timeS / 60), timeS - 60 * Math.floor(timeS / 60)]);
  const contexts = kept.map(({ context = "General" }) => context);
  return [
    {
      name: "EVENT",
      parameters: [
        ["USED", integers([kept.length])],
        ["TIMES", reals(times, [2, kept.length])],
        ["LABELS", texts(kept.map(({ label }) => label))],
        ["CONTEXTS", texts(contexts)],
      ],
    },
    {
      name: "EVENT_CONTEXT",
      parameters: [
        ["USED", integers([1])],
        ["LABELS", texts(["General"])],
        ["DESCRIPTIONS", texts(["events of the shot"])],
      ],
    },
  ];
}

/** The header's own events, for readers that know no groups: the first 18, labels of four letters. */
export function headerEvents(view: DataView, events: readonly C3dEvent[]): void {
  const kept = events.slice(0, HEADER_EVENTS);
  view.setUint16(298, HEADER_EVENT_KEY, true);
  view.setUint16(300, kept.length, true);
  kept.forEach(({ label, timeS }, k) => {
    view.setFloat32(304 + 4 * k, timeS, true);
    view.setUint8(376 + k, 1);
    const short = SHORT_LABELS[label] ?? label.toUpperCase().padEnd(4);
    for (let i = 0; i < 4; i++) view.setUint8(396 + 4 * k + i, short.charCodeAt(i) & 0x7f);
  });
}
