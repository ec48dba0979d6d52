/** Measure: numbers that know their unit and their doubt, answers that may be "no", and words for both. */

export { BadInputError, type Fault, OutOfRangeError } from './errors.js';
export { combineU, dofNumber, dofRecord, type Estimate, effectiveDof } from './estimate.js';
export {
  decimalsFor,
  formatCelsius,
  formatCount,
  formatDuration,
  formatDurationEstimate,
  formatElapsed,
  formatEstimate,
  formatKelvin,
  formatList,
  formatNumber,
  formatPercent,
} from './format.js';
export { found, type Result, refused } from './result.js';
export { plainText, type Sentence, type SentencePart } from './sentence.js';
export {
  celsiusFromFahrenheit,
  celsiusFromKelvin,
  hectopascalFromPascal,
  hoursFromSeconds,
  kelvinFromCelsius,
  megapascalFromHectopascal,
  metreFromMillimetre,
  millimetreFromMetre,
  millivoltsFromMicrovolts,
  ohmsFromKilohms,
  secondsFromHours,
  unitEndings,
  voltsFromMillivolts,
  zeroCelsius_K,
} from './units.js';
