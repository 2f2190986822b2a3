/** What stands beside the sheet: the four that a coach asks for first (common practice, no source). */
export const FIRST_MEASURES = [
  "lead.share.at.delivery",
  "lead.heelToe.at.delivery",
  "both.speedTarget.at.delivery",
  "both.travelTarget.at.impact",
] as const;
