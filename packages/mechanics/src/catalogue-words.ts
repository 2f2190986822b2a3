/** What a family of measures is about; also the name of its page docs/method/<family>.md. */
export const MEASURE_FAMILIES = [
  "load-share",
  "ground-reaction-force",
  "impulse",
  "rate-of-force-development",
  "unweighting",
  "foot-coordinates",
  "centre-of-pressure",
  "lean",
  "centre-of-mass",
  "turning-torque",
  "required-friction",
  "timing",
  "weight",
] as const;
export type MeasureFamily = (typeof MEASURE_FAMILIES)[number];

/** One quantity in words: the only place of its name, unit and decimals. */
export interface QuantityWords {
  readonly family: MeasureFamily;
  /** Fits after "Peak" and before "at impact"; begins without a capital. */
  readonly label: string;
  readonly unit: string;
  /** Digits after the point that its usual uncertainty justifies. */
  readonly decimals: number;
  readonly sentence: string;
}

/** `<foot>.<quantity>` of the catalogue. */
export type QuantityName =
  | "lead.share"
  | "lead.load"
  | "trail.load"
  | "both.target"
  | "both.ahead"
  | "both.up"
  | "lead.target"
  | "lead.ahead"
  | "lead.up"
  | "trail.target"
  | "trail.ahead"
  | "trail.up"
  | "lead.heelToe"
  | "trail.heelToe"
  | "lead.innerOuter"
  | "lead.margin"
  | "both.copTarget"
  | "both.copAhead"
  | "both.cop"
  | "both.leanTarget"
  | "both.leanAhead"
  | "both.speedTarget"
  | "both.speedAhead"
  | "both.speedUp"
  | "both.travelTarget"
  | "both.travelAhead"
  | "both.travelUp"
  | "both.turn"
  | "both.couple"
  | "lead.freeMoment"
  | "trail.freeMoment"
  | "lead.friction"
  | "trail.friction"
  | "both.backswing"
  | "both.downswing"
  | "both.tempo"
  | "both.peakGap"
  | "both.peakOrder"
  | "both.weight";

/** Words of every `<foot>.<quantity>` in the catalogue. */
export const QUANTITY_WORDS: Readonly<Record<QuantityName, QuantityWords>> = {
  "lead.share": {
    family: "load-share",
    label: "lead foot load share",
    unit: "%",
    decimals: 1,
    sentence: "The lead foot's part of the load that both feet carry, square to the turf.",
  },
  "lead.load": {
    family: "load-share",
    label: "lead foot load",
    unit: "N",
    decimals: 0,
    sentence: "Force square to the turf under the lead foot.",
  },
  "trail.load": {
    family: "load-share",
    label: "trail foot load",
    unit: "N",
    decimals: 0,
    sentence: "Force square to the turf under the trail foot.",
  },
  "both.target": {
    family: "ground-reaction-force",
    label: "target force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on both feet along the target line, + toward the target.",
  },
  "both.ahead": {
    family: "ground-reaction-force",
    label: "ahead force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on both feet from heels to toes, + toward the ball.",
  },
  "both.up": {
    family: "ground-reaction-force",
    label: "up force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on both feet away from the ground, body weight included.",
  },
  "lead.target": {
    family: "ground-reaction-force",
    label: "lead foot target force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on the lead foot along the target line, + toward the target.",
  },
  "lead.ahead": {
    family: "ground-reaction-force",
    label: "lead foot ahead force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on the lead foot from heels to toes, + toward the ball.",
  },
  "lead.up": {
    family: "ground-reaction-force",
    label: "lead foot up force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on the lead foot away from the ground.",
  },
  "trail.target": {
    family: "ground-reaction-force",
    label: "trail foot target force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on the trail foot along the target line, + toward the target.",
  },
  "trail.ahead": {
    family: "ground-reaction-force",
    label: "trail foot ahead force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on the trail foot from heels to toes, + toward the ball.",
  },
  "trail.up": {
    family: "ground-reaction-force",
    label: "trail foot up force",
    unit: "N",
    decimals: 0,
    sentence: "Force of the ground on the trail foot away from the ground.",
  },
  "lead.heelToe": {
    family: "foot-coordinates",
    label: "lead foot pressure, heel to toe",
    unit: "%",
    decimals: 0,
    sentence: "Where the centre of pressure lies along the lead foot: 0 heel, 100 toe.",
  },
  "trail.heelToe": {
    family: "foot-coordinates",
    label: "trail foot pressure, heel to toe",
    unit: "%",
    decimals: 0,
    sentence: "Where the centre of pressure lies along the trail foot: 0 heel, 100 toe.",
  },
  "lead.innerOuter": {
    family: "foot-coordinates",
    label: "lead foot pressure, inner to outer edge",
    unit: "%",
    decimals: 0,
    sentence: "Where the centre of pressure lies across the lead foot: 0 inner edge, 100 outer edge.",
  },
  "lead.margin": {
    family: "foot-coordinates",
    label: "lead foot pressure margin",
    unit: "mm",
    decimals: 0,
    sentence: "Distance of the centre of pressure from the lead foot's outline, + inside.",
  },
  "both.copTarget": {
    family: "centre-of-pressure",
    label: "centre of pressure along target",
    unit: "mm",
    decimals: 0,
    sentence: "Centre of pressure of both feet along the target line, from the middle between the feet.",
  },
  "both.copAhead": {
    family: "centre-of-pressure",
    label: "centre of pressure ahead",
    unit: "mm",
    decimals: 0,
    sentence: "Centre of pressure of both feet toward the ball, from the middle between the feet.",
  },
  "both.cop": {
    family: "centre-of-pressure",
    label: "centre of pressure",
    unit: "mm",
    decimals: 0,
    sentence: "Centre of pressure of both feet in the plane of the turf.",
  },
  "both.leanTarget": {
    family: "lean",
    label: "lean of the force to target",
    unit: "deg",
    decimals: 1,
    sentence: "Angle of the total force toward the target, from up.",
  },
  "both.leanAhead": {
    family: "lean",
    label: "lean of the force ahead",
    unit: "deg",
    decimals: 1,
    sentence: "Angle of the total force toward the ball, from up.",
  },
  "both.speedTarget": {
    family: "centre-of-mass",
    label: "body speed to target",
    unit: "m/s",
    decimals: 2,
    sentence: "Speed of the centre of mass along the target line, + toward the target.",
  },
  "both.speedAhead": {
    family: "centre-of-mass",
    label: "body speed ahead",
    unit: "m/s",
    decimals: 2,
    sentence: "Speed of the centre of mass from heels to toes, + toward the ball.",
  },
  "both.speedUp": {
    family: "centre-of-mass",
    label: "body speed up",
    unit: "m/s",
    decimals: 2,
    sentence: "Speed of the centre of mass against gravity.",
  },
  "both.travelTarget": {
    family: "centre-of-mass",
    label: "body travel to target",
    unit: "mm",
    decimals: 0,
    sentence: "Way of the centre of mass along the target line since address.",
  },
  "both.travelAhead": {
    family: "centre-of-mass",
    label: "body travel ahead",
    unit: "mm",
    decimals: 0,
    sentence: "Way of the centre of mass toward the ball since address.",
  },
  "both.travelUp": {
    family: "centre-of-mass",
    label: "body travel up",
    unit: "mm",
    decimals: 0,
    sentence: "Way of the centre of mass against gravity since address.",
  },
  "both.turn": {
    family: "turning-torque",
    label: "turning torque",
    unit: "N m",
    decimals: 1,
    sentence:
      "Torque of the ground about the normal through the centre of pressure, + turning the body toward the target.",
  },
  "both.couple": {
    family: "turning-torque",
    label: "couple of the feet",
    unit: "N m",
    decimals: 1,
    sentence: "The part of the turning torque that comes from opposed pushes of the two feet.",
  },
  "lead.freeMoment": {
    family: "turning-torque",
    label: "lead foot free moment",
    unit: "N m",
    decimals: 1,
    sentence: "The part of the turning torque that comes from twisting under the lead foot.",
  },
  "trail.freeMoment": {
    family: "turning-torque",
    label: "trail foot free moment",
    unit: "N m",
    decimals: 1,
    sentence: "The part of the turning torque that comes from twisting under the trail foot.",
  },
  "lead.friction": {
    family: "required-friction",
    label: "lead foot required friction",
    unit: "1",
    decimals: 2,
    sentence: "Force along the turf over force into it under the lead foot: what the footing has to hold.",
  },
  "trail.friction": {
    family: "required-friction",
    label: "trail foot required friction",
    unit: "1",
    decimals: 2,
    sentence: "Force along the turf over force into it under the trail foot: what the footing has to hold.",
  },
  "both.backswing": {
    family: "timing",
    label: "backswing",
    unit: "ms",
    decimals: 0,
    sentence: "Time from start to top.",
  },
  "both.downswing": {
    family: "timing",
    label: "downswing",
    unit: "ms",
    decimals: 0,
    sentence: "Time from top to impact.",
  },
  "both.tempo": {
    family: "timing",
    label: "tempo",
    unit: "1",
    decimals: 1,
    sentence: "Backswing over downswing.",
  },
  "both.peakGap": {
    family: "timing",
    label: "gap of peaks",
    unit: "ms",
    decimals: 0,
    sentence: "Time between the peaks of two forces around the downswing, + where the first named comes first.",
  },
  "both.peakOrder": {
    family: "timing",
    label: "peak order",
    unit: "",
    decimals: 0,
    sentence: "Which of target, ahead and up force peaks first; two that cannot be told apart are called together.",
  },
  "both.weight": {
    family: "weight",
    label: "weight",
    unit: "N",
    decimals: 0,
    sentence: "Load of the quiet stance against gravity, club included.",
  },
};
