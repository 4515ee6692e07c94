// What is not listed here is private to the package.
export type { Alignment, ClockPiece, TyreBehaviour } from './alignment.ts';
export { type Channel, type Clock, type Piece, REASONS, type Reason, type Recording, type Started } from './channel.ts';
export { alignClocks } from './clocks/align.ts';
export type { AlignOptions } from './clocks/align-options.ts';
export { densest, type RatioCluster, ratioClusters } from './clocks/clusters.ts';
export { combineRates } from './clocks/combine.ts';
export {
  type DelayEvidence,
  delayAt,
  measuredLambdaDelay,
  SENSOR_DELAYS,
  type SensorDelay,
  undelayed,
  usualDelay,
} from './clocks/delays.ts';
export { type ClockedChannel, type JoinedChannels, type JoinInput, joinRecords } from './clocks/join.ts';
export { nudged, type ResidualAt, residualAt } from './clocks/nudge.ts';
export { sameClock } from './clocks/same-clock.ts';
export { sampleTrack } from './clocks/sample-track.ts';
export { checkHealth } from './health/health.ts';
export type { Alternative, ColumnMapping, Mapping, Proposal } from './mapping.ts';
export { MEANINGS, type Meaning } from './meanings.ts';
export { BodyReader, type BodySeen } from './readers/body.ts';
export { lineStart } from './readers/bytes.ts';
export { CELL } from './readers/cell.ts';
export { utf8Text } from './readers/characters.ts';
export { type DelimitedInput, readDelimited, settledColumn } from './readers/delimited.ts';
export {
  type DelimitedStream,
  delimitedStream,
  type RowBlock,
  type StreamOptions,
} from './readers/delimited-stream.ts';
export { type DialectEvidence, type DialectFound, detectDialect, HEAD_BYTES } from './readers/dialect.ts';
export { headed, type Layout, layoutOf, uniqueNames } from './readers/layout.ts';
export { applySettled, type Settled } from './readers/settle.ts';
export { type ColumnSummary, type DelimitedSummary, summarised } from './readers/summary.ts';
export { addColumnTally, addRowTally, emptyColumnTally, emptyRowTally } from './readers/tally.ts';
export { agreedProposals, type FileProposals } from './recognition/agreed.ts';
export { columnSetText, type Decision, decide as decideMapping } from './recognition/decide.ts';
export { matters } from './recognition/matters.ts';
export { proposeMapping } from './recognition/propose.ts';
export { type RecordingInput, toRecording } from './recording/recording.ts';
export type { SpeedTrack } from './sound/heard.ts';
export { readSound, type Sound, type SoundReader, soundReader } from './sound/sound.ts';
export { type SoundFacts, type SoundOptions, SPEED_RANGE, soundRecording } from './sound/sound-recording.ts';
export { isWave, WAVE_HEAD_BYTES, type WaveHead, type WaveLayout, waveLayout } from './sound/wave-layout.ts';
export type { Column, Dialect, Table, TableFormat } from './table.ts';
