// Arrays in, numbers with intervals out: distributions, a player's own scatter, differences, curves, associations, several players, planning,
// trends. Knows no golf, no names of measures and no sentences; random numbers are passed in.

export { type AreaUnderCurve, areaUnderCurve, newcombeLimits } from "./association/area-under-curve.ts";
export { type AssociationFamily, associationFamily } from "./association/association-family.ts";
export { type FirthLogistic, firthLogistic, type LogisticCoefficient } from "./association/firth-logistic.ts";
export { type MishitModel, mishitModel } from "./association/mishit-model.ts";
export {
  type AssociationOptions,
  kendall,
  type RankCorrelation,
  type SpearmanCorrelation,
  spearman,
} from "./association/rank-correlation.ts";
export { type CurveCluster, type CurveClusters, curveClusters, pairedCurveClusters } from "./curves/curve-clusters.ts";
export { type ConditionPair, type CurveConditions, curveConditions } from "./curves/curve-conditions.ts";
export {
  type CurveComparison,
  type CurveTestOptions,
  curveDifference,
  type JudgedCurve,
  largestTOfRows,
  pairedCurveDifference,
} from "./curves/curve-difference.ts";
export { type VisitedCurves, type VisitMeans, visitMeanCurves } from "./curves/curve-visits.ts";
export { effectSizeCurve } from "./curves/effect-size-curve.ts";
export { type DrawnRows, type LabelRows, rowsOfOrders } from "./curves/label-rows.ts";
export { type PermutationSample, permutationSample, permutationThreshold } from "./curves/permutation-sample.ts";
export type { ComparedCurve } from "./curves/pointwise-t.ts";
export {
  type Interpolation,
  type Registration,
  registeredByEvents,
  registeredByImpact,
  registeredCurves,
  type ShotCurve,
  type TimeGrid,
} from "./curves/registration.ts";
export {
  raisedCosine,
  type SimulatedPower,
  type SimulatedPowerOptions,
  simulatedCurvePower,
} from "./curves/simulated-curve-power.ts";
export type { CurveStretch } from "./curves/stretches.ts";
export { type BcaInterval, type BcaOptions, bcaInterval } from "./difference/bca.ts";
export { bcaOfMeanDifferences, drawnIndices, type Resamples } from "./difference/bca-of-means.ts";
export {
  type AnyDifference,
  anyDifference,
  contrast,
  type Interaction,
  interaction,
  type PairOfConditions,
  type WelchF,
  welchF,
} from "./difference/contrast.ts";
export { type Drift, drift } from "./difference/drift.ts";
export { type EffectSize, hedgesG, hedgesGOfDifferences } from "./difference/effect-size.ts";
export { type Equivalence, equivalence } from "./difference/equivalence.ts";
export { glassDelta, isBootstrapOffered, skewness } from "./difference/glass-delta.ts";
export { countLabellings, type Labelled } from "./difference/labellings.ts";
export {
  benjaminiHochberg,
  holm,
  levelOfLook,
  type MaxTFamily,
  maxTFamily,
} from "./difference/multiplicity.ts";
export { type DrawOptions, type PermutationP, permutationP, signFlipP } from "./difference/permutation.ts";
export {
  type BothWays,
  bothWays,
  type Verdict,
  type VerdictInput,
  type VerdictReason,
  type VerdictResult,
  verdictOf,
} from "./difference/verdict.ts";
export { type Difference, type DifferenceOptions, pairedDifference, welch } from "./difference/welch.ts";
export { chiSquaredQuantile, chiSquaredTails } from "./distributions/chi-squared.ts";
export { fQuantile, fTails } from "./distributions/f-distribution.ts";
export { noncentralTCdf } from "./distributions/noncentral-t.ts";
export { normalCdf, normalQuantile, normalTails } from "./distributions/normal.ts";
export { studentCdf, studentQuantile, studentTails, studentTwoSidedP } from "./distributions/student-t.ts";
export type { Tails } from "./distributions/tails.ts";
export { type Estimate, type EstimateOptions, LEVEL_OF_ONE, type Looks, ONE_LOOK, type Withheld } from "./estimate.ts";
export { carryOverColumns } from "./mixed/carry-over.ts";
export { type MixedDesign, type MixedSums, mixedDesign } from "./mixed/mixed-design.ts";
export { type FitFinding, type FittedModel, type MixedFit, mixedFit } from "./mixed/mixed-fit.ts";
export {
  type OwnContrast,
  type OwnDifference,
  type PlayersComparison,
  type PlayersContrast,
  type PlayersOptions,
  playersComparison,
} from "./mixed/players-comparison.ts";
export type { PlayersColumns, PlayersShots } from "./mixed/players-data.ts";
export type { PlayersFinding, PlayersModel, PlayersRandom, PlayersScatter } from "./mixed/players-model.ts";
export { type PlayersRepeatability, playersRepeatability } from "./mixed/players-repeatability.ts";
export { type PredictionTarget, predictions } from "./mixed/predictions.ts";
export type { RandomColumns, RandomLevel, RandomTerm } from "./mixed/random-columns.ts";
export {
  fixedContrasts,
  type TestedEstimate,
  type VarianceKnowledge,
  varianceKnowledge,
} from "./mixed/satterthwaite.ts";
export type { TwoStage } from "./mixed/two-stage.ts";
export { type CurveDifference, curvePower, curvesPerCondition } from "./planning/curve-power.ts";
export { type DrawnOrder, type DrawnShot, drawnOrder, withRepeat } from "./planning/drawn-order.ts";
export type { Plan } from "./planning/plan.ts";
export {
  type PlanReach,
  type PlanVerdict,
  planReach,
  planVerdict,
  smallestBlockedP,
  smallestFreeP,
} from "./planning/plan-reach.ts";
export {
  type Comparison,
  detectableDifference,
  type PowerOptions,
  pairsNeeded,
  power,
  shotsPerCondition,
  type WantedDifference,
} from "./planning/power.ts";
export {
  type PlayersForShots,
  playersByShots,
  powerByPlayersAndShots,
  type ShotsNeeded,
  shotsNeeded,
} from "./planning/shots-needed.ts";
export { isOrderConfounded, type VisitScatter, visitScatter } from "./planning/visits.ts";
export { williamsRows } from "./planning/williams.ts";
export { type NormalRandom, type NormalStreams, type Random, type Streams, streamLabel } from "./random.ts";
export { mean, standardDeviation, type Values } from "./samples.ts";
export {
  type CurveBand,
  type CurveBandOptions,
  curveBand,
  type OutsideStretch,
  stretchesOutside,
} from "./scatter/curve-band.ts";
export { deviationInterval, deviationUpperLimit } from "./scatter/deviation-interval.ts";
export {
  type IntraclassCorrelation,
  intraclassCorrelation,
  type MeanSquares,
  repeatability,
} from "./scatter/intraclass-correlation.ts";
export { minimalDetectableChange } from "./scatter/minimal-detectable-change.ts";
export {
  laterRunP,
  type ShotAgainstBand,
  type ShotOverMeasures,
  scatterOfOthers,
  shotAgainstBand,
  shotOverMeasures,
} from "./scatter/shot-against-band.ts";
export { type Scatter, type ShotAgainstShot, satterthwaiteNu, shotAgainstShot } from "./scatter/shot-against-shot.ts";
export { type Curves, curveScatter, roughness, tFieldFactor } from "./scatter/t-field.ts";
export { toleranceFactor } from "./scatter/tolerance-factor.ts";
export {
  coefficientOfVariation,
  type TypicalError,
  typicalError,
  typicalErrorOfTwoOccasions,
} from "./scatter/typical-error.ts";
export {
  bandHalfWidth,
  meanInterval,
  robustBand,
  robustScale,
  type UsualBand,
  usualBand,
} from "./scatter/usual-band.ts";
export { kendallScore, kendallTest, theilSen } from "./trend/kendall.ts";
export { type Coefficient, type LeastSquares, leastSquares } from "./trend/least-squares.ts";
export { type RunChart, runChart } from "./trend/run-chart.ts";
export { type SessionScatter, sessionScatter } from "./trend/session-scatter.ts";
export {
  type SessionChange,
  type SessionPoint,
  type SessionShots,
  type SessionTrend,
  type SessionTrendOptions,
  sessionTrend,
  type Trend,
  type TrendWithSteps,
} from "./trend/session-trend.ts";
export { type StudyShots, type StudyTrend, studyTrend } from "./trend/study-trend.ts";
