/**
 * What loggers write where there is no reading: nothing measured, sensor open, out of range, fault.
 * Compared without regard to case. @assumed common practice, no source
 */
export const noReadingWords: readonly string[] = [
  '-',
  '--',
  '---',
  '----',
  '-.-',
  '--.-',
  '*',
  '***',
  '****',
  '?',
  'nan',
  '-nan',
  '#n/a',
  'n/a',
  'na',
  'null',
  'none',
  'nil',
  'ol',
  '-ol',
  'o.l',
  'open',
  'open circuit',
  'short',
  'overload',
  'over',
  'under',
  'inf',
  '-inf',
  'err',
  'error',
  'fault',
  'disconnected',
  'no sensor',
  'invalid',
];

/**
 * Numbers that loggers write in place of a reading; taken as such only where the log's other readings are far away.
 * @assumed common practice, no source
 */
export const noReadingNumbers: readonly number[] = [
  -127, -999, -999.9, -9999, 999, 999.9, 9999, 9999.9, 3276.7, 6553.5, 32_767, -32_768, 65_535,
];
