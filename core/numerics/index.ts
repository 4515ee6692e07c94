// What is not listed here is private to the package.

export {
  type QuadratureRange,
  quadrature,
  type TrapezoidInput,
  type TrapezoidIntegral,
  trapezoid,
} from './calculus/integrate.ts';
export { bracketedRoot, type RootRange } from './calculus/roots.ts';
export { backwardSolution, cholesky, forwardSolution } from './fits/cholesky.ts';
export {
  type GaussianProcess,
  type GaussianProcessInput,
  gaussianProcess,
  gaussianProcessPrediction,
  type Prediction,
} from './fits/gaussian-process.ts';
export {
  type HouseholderQr,
  householderQr,
  inverseNormalMatrix,
  leastSquaresSolution,
  type Matrix,
} from './fits/householder.ts';
export { levenbergMarquardt, type NonlinearFit, type NonlinearFitInput } from './fits/levenberg-marquardt.ts';
export { designOf, type LinearFit, type LinearFitInput, linearFit, polynomialDesign } from './fits/linear-fit.ts';
export { curveValue, type MonotoneCurve, monotoneCurve } from './fits/monotone-curve.ts';
export { type PosteriorInput, type PosteriorMode, posteriorMode } from './fits/posterior-mode.ts';
export { type ResponseSurface, responseSurface, type SurfaceInput, surfaceValue } from './fits/response-surface.ts';
export { BISQUARE_TUNING, type RobustFit, type RobustFitInput, robustLinearFit } from './fits/robust-fit.ts';
export { type SymmetricEigen, symmetricEigen } from './fits/symmetric-eigen.ts';
export { type BestPath, type BestPathInput, bestPath } from './signals/best-path.ts';
export { type CrossCorrelation, type CrossCorrelationInput, crossCorrelation } from './signals/cross-correlation.ts';
export { type Decimator, type DecimatorInput, decimator } from './signals/decimate.ts';
export {
  type ComplexArrays,
  type FourierPlan,
  fourierPlan,
  fourierTransformInto,
  inverseFourierTransformInto,
  powerOfTwoAtLeast,
  realFourierTransform,
} from './signals/fft.ts';
export {
  FEWEST_SAMPLES,
  type LocalQuadratic,
  type LocalQuadraticInput,
  localQuadratic,
} from './signals/local-polynomial.ts';
export { type LowessInput, lowess } from './signals/lowess.ts';
export { indexAtOrAfter, indexAtOrBefore, type Piece, pieceFinder } from './signals/piece.ts';
export { type ResampleInput, resample } from './signals/resample.ts';
export { type SavitzkyGolayInput, savitzkyGolay } from './signals/savitzky-golay.ts';
export { type SineFit, type SineInput, sineFit } from './signals/sine-fit.ts';
export { kernelHalfWidth, type PeakInput, peakBias, smoothingGain } from './signals/smoothing-kernel.ts';
export { type PowerSpectrum, powerSpectrum, type SpectrumInput } from './signals/spectrum.ts';
export { type OneWayAnova, oneWayAnova } from './statistics/anova.ts';
export {
  type Comparison,
  type ComparisonOptions,
  pairedComparison,
  pooledComparison,
  pooledDeviation,
  type Sides,
  sidesOf,
  welchComparison,
} from './statistics/compare.ts';
export {
  type ControlChart,
  type CorrelatedEwmaInput,
  type CusumChart,
  type CusumInput,
  correlatedEwmaChart,
  cusumChart,
  type EwmaInput,
  ewmaChart,
  individualsChart,
  type PointwiseChart,
  sumStart,
} from './statistics/control-chart.ts';
export {
  chiSquaredCdf,
  chiSquaredQuantile,
  type FShape,
  fCdf,
  fQuantile,
  fUpperTail,
  normalCdf,
  normalQuantile,
  studentCdf,
  studentQuantile,
} from './statistics/distributions.ts';
export { type MissingPolicy, usablePairs, usableSamples } from './statistics/missing.ts';
export { type SampleSummary, sampleSummary } from './statistics/moments.ts';
export { median, type QuantileInput, quantile, quantileOfSorted } from './statistics/quantile.ts';
export { type RandomSource, randomSource } from './statistics/random.ts';
export { type KnownDeviation, type RepeatInput, repeatDeviation } from './statistics/repeat-deviation.ts';
export {
  HUBER_TUNING,
  type HuberInput,
  type HuberLocation,
  hodgesLehmann,
  huberLocation,
  medianAbsoluteDeviation,
} from './statistics/robust.ts';
export {
  type BetaShape,
  incompleteBeta,
  incompleteGamma,
  logGamma,
  type Tails,
} from './statistics/special-functions.ts';
export {
  type CombinationInput,
  type CombinedUncertainty,
  type Contribution,
  type Correlation,
  combinedUncertainty,
  coverageFactor,
  type UncertainInput,
} from './statistics/uncertainty.ts';
