// What is not listed here is private to the package.
export { type OneWayAnova, oneWayAnova } from './anova.ts';
export {
  type Comparison,
  type ComparisonOptions,
  pairedComparison,
  pooledComparison,
  pooledDeviation,
  type Sides,
  sidesOf,
  welchComparison,
} from './compare.ts';
export {
  type ControlChart,
  type CusumChart,
  type CusumInput,
  cusumChart,
  type EwmaInput,
  ewmaChart,
  individualsChart,
} from './control-chart.ts';
export { type CrossCorrelation, type CrossCorrelationInput, crossCorrelation } from './cross-correlation.ts';
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
} from './distributions.ts';
export {
  type ComplexArrays,
  type FourierPlan,
  fourierPlan,
  fourierTransformInto,
  inverseFourierTransformInto,
  powerOfTwoAtLeast,
  realFourierTransform,
} from './fft.ts';
export {
  type GaussianProcess,
  type GaussianProcessInput,
  gaussianProcess,
  gaussianProcessPrediction,
  type Prediction,
} from './gaussian-process.ts';
export {
  type HouseholderQr,
  householderQr,
  inverseNormalMatrix,
  leastSquaresSolution,
  type Matrix,
} from './householder.ts';
export {
  type QuadratureRange,
  quadrature,
  type TrapezoidInput,
  type TrapezoidIntegral,
  trapezoid,
} from './integrate.ts';
export { levenbergMarquardt, type NonlinearFit, type NonlinearFitInput } from './levenberg-marquardt.ts';
export { designOf, type LinearFit, type LinearFitInput, linearFit, polynomialDesign } from './linear-fit.ts';
export { FEWEST_SAMPLES, type LocalQuadratic, type LocalQuadraticInput, localQuadratic } from './local-polynomial.ts';
export { type LowessInput, lowess } from './lowess.ts';
export { type MissingPolicy, usablePairs, usableSamples } from './missing.ts';
export { type SampleSummary, sampleSummary } from './moments.ts';
export { indexAtOrBefore, type Piece, pieceAt } from './piece.ts';
export { median, type QuantileInput, quantile, quantileOfSorted } from './quantile.ts';
export { type RandomSource, randomSource } from './random.ts';
export { type ResampleInput, resample } from './resample.ts';
export { type ResponseSurface, responseSurface, type SurfaceInput, surfaceValue } from './response-surface.ts';
export {
  HUBER_TUNING,
  type HuberInput,
  type HuberLocation,
  hodgesLehmann,
  huberLocation,
  medianAbsoluteDeviation,
} from './robust.ts';
export { BISQUARE_TUNING, type RobustFit, type RobustFitInput, robustLinearFit } from './robust-fit.ts';
export { bracketedRoot, type RootRange } from './roots.ts';
export { type SavitzkyGolayInput, savitzkyGolay } from './savitzky-golay.ts';
export { kernelHalfWidth, type PeakInput, peakBias, smoothingGain } from './smoothing-kernel.ts';
export { incompleteBeta, incompleteGamma, logGamma, type Tails } from './special-functions.ts';
export { type PowerSpectrum, powerSpectrum, type SpectrumInput } from './spectrum.ts';
export { type SymmetricEigen, symmetricEigen } from './symmetric-eigen.ts';
export {
  type CombinationInput,
  type CombinedUncertainty,
  type Contribution,
  type Correlation,
  combinedUncertainty,
  coverageFactor,
  type UncertainInput,
} from './uncertainty.ts';
