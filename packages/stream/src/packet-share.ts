import type { Finding } from "@underfoot/domain";

const WINDOW_S = 10;
const MOST_BAD_SHARE = 0.01;

/** Counts packets by the second and says when over 1 % of the last 10 s were bad; once, until it is below again. */
export function packetShare(): (isBad: boolean, nowMs: number) => Finding | undefined {
  let seconds: { readonly second: number; packets: number; bad: number }[] = [];
  let isSaid = false;
  return (isBad, nowMs) => {
    const second = Math.floor(nowMs / 1000);
    seconds = seconds.filter((one) => one.second > second - WINDOW_S);
    let last = seconds.at(-1);
    if (last?.second !== second) {
      last = { second, packets: 0, bad: 0 };
      seconds.push(last);
    }
    last.packets += 1;
    last.bad += Number(isBad);
    const packets = seconds.reduce((total, one) => total + one.packets, 0);
    const bad = seconds.reduce((total, one) => total + one.bad, 0);
    const isMuch = bad > MOST_BAD_SHARE * packets;
    const isNew = isMuch && !isSaid;
    isSaid = isMuch;
    return isNew
      ? {
          code: "stream-damaged",
          severity: "caution",
          sentence: `${bad} of the last ${packets} packets of the live stream were damaged and not taken.`,
          remedy: "Check the cable or the network between plate, bridge and this machine.",
        }
      : undefined;
  };
}
