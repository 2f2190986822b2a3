/** Where the ruler stands, outside React: moving it must touch only what follows it. */
export interface Ruler {
  /** Seconds from the first sample. */
  readonly timeS: () => number;
  readonly move: (timeS: number) => void;
  /** The ends it cannot pass, and the step of one frame, all in seconds. */
  readonly bound: (limits: RulerLimits) => void;
  readonly limits: () => RulerLimits;
  /** Calls `follow` at most once a frame after a move; returns how to stop. */
  readonly follow: (follow: () => void) => () => void;
}

interface RulerLimits {
  readonly firstS: number;
  readonly lastS: number;
  readonly frameS: number;
}

/**
 * A ruler that tells its followers in step with the screen.
 * @param nextFrame  requestAnimationFrame in a page; a test passes its own
 */
export function ruler(nextFrame: (draw: () => void) => void): Ruler {
  const followers = new Set<() => void>();
  let limits: RulerLimits = { firstS: 0, lastS: 0, frameS: 0.001 };
  let at = 0;
  let isAsked = false;
  const tell = (): void => {
    isAsked = false;
    for (const follow of followers) follow();
  };
  const move = (timeS: number): void => {
    const snapped = Math.round(timeS / limits.frameS) * limits.frameS;
    const next = Math.min(limits.lastS, Math.max(limits.firstS, snapped));
    if (next === at) return;
    at = next;
    if (!isAsked) {
      isAsked = true;
      nextFrame(tell);
    }
  };
  return {
    timeS: () => at,
    move,
    limits: () => limits,
    bound: (next) => {
      limits = next;
      move(at);
    },
    follow: (follow) => {
      followers.add(follow);
      return () => followers.delete(follow);
    },
  };
}
