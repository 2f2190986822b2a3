import type { Answer } from "./routes.ts";

/** Things as they come over the line, named once for the page. */
export type About = Answer<"get /api/about">;
export type PlayerShape = Answer<"get /api/players/{id}">;
export type ClubShape = Answer<"get /api/clubs">[number];
export type LayoutShape = Answer<"get /api/layouts">[number];
export type OutlineShape = Answer<"get /api/players/{id}/outlines">[number];
export type SessionShape = Answer<"get /api/sessions/{id}">;
export type SessionLineShape = Answer<"get /api/sessions">["rows"][number];
export type PlateCheckShape = Answer<"get /api/sessions/{id}/checks">[number];
export type ShotShape = Answer<"get /api/shots/{id}">;
export type ShotLineShape = Answer<"get /api/shots">["rows"][number];
export type PointShape = Answer<"get /api/measures">[number];
export type HistoryShape = Answer<"get /api/history">[number];
export type JobShape = Answer<"get /api/jobs/{id}">;
export type SettingsShape = Answer<"get /api/settings">;
export type BroughtInShape = Answer<"post /api/recordings">;
export type WordsShape = Answer<"get /api/words">;
export type ComparisonShape = Answer<"get /api/comparison">;
export type UsualShape = Answer<"get /api/usual">;
export type BoardShape = Answer<"get /api/board">;
export type OutcomeShape = Answer<"get /api/outcome">;
export type StudyShape = Answer<"get /api/study">;
