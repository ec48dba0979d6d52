// @ts-check
/**
 * Small invented logs, one for each way in which loggers write. The tests read them and know what is true of each; the fuzzer
 * damages them. All readings and serial numbers are made up.
 *
 * `after_s` and `readings_C` are the truth the log was written from, not what our own reader said of it.
 *
 * @typedef {object} CorpusLog
 * @property {string} item what the log shows
 * @property {string} note what is true of it
 * @property {Uint8Array} bytes
 * @property {readonly number[]} after_s seconds after the first row on the time axis
 * @property {readonly (readonly (number | null)[])[]} readings_C one list per temperature column; null where there is no reading
 * @property {string | null} [startedAt] wall clock of the first row in UTC
 * @property {readonly string[]} [asks] fields of the questions, apart from whose column it is
 * @property {number} [leftOut] lines that are no row on the time axis
 * @property {readonly { kind: string, lines: readonly number[] }[]} [doubts]
 * @property {readonly number[]} [late] lines that were sorted in
 */

/** @param {string} text */
const utf8 = (text) => new TextEncoder().encode(text);
/** @param {string} text */
const latin1 = (text) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
/** @param {string} text @param {boolean} littleEndian */
const utf16 = (text, littleEndian) => {
  const bytes = new Uint8Array(2 * text.length);
  const view = new DataView(bytes.buffer);
  for (let at = 0; at < text.length; at++) view.setUint16(2 * at, text.charCodeAt(at), littleEndian);
  return bytes;
};

const plain_s = [0, 10, 20, 30];
const pack_C = [21.5, 21.75, 22, 22.25];
const room_C = [20.25, 20.25, 20.5, 20.5];
const began = '2024-05-31T10:00:00.000Z';
const clock = ['10:00:00', '10:00:10', '10:00:20', '10:00:30'];

/** Rows of a stamp and the two readings. @param {readonly string[]} stamps @param {string} delimiter @param {string} [mark] */
const rows = (stamps, delimiter, mark = '.') =>
  stamps
    .map((stamp, row) =>
      [
        stamp,
        (pack_C[row] ?? 0).toFixed(2).replace('.', mark),
        (room_C[row] ?? 0).toFixed(2).replace('.', mark),
      ].join(delimiter),
    )
    .join('\n');
const iso = clock.map((time) => `2024-05-31 ${time}`);

/** @type {(log: Omit<CorpusLog, 'bytes' | 'after_s' | 'readings_C'> & Partial<CorpusLog> & { text?: string }) => CorpusLog} */
const log = ({ text, ...rest }) => ({
  after_s: plain_s,
  readings_C: [pack_C, room_C],
  ...rest,
  bytes: rest.bytes ?? utf8(text ?? ''),
});

/** Thirty rows ten seconds apart, rising slowly, with changes. @param {(row: number, value: string) => string} [change] */
const ramp = (change = (_row, value) => value) =>
  Array.from(
    { length: 30 },
    (_, row) => `${row * 10},${change(row, (21.5 + row / 10).toFixed(1))},20.3`,
  ).join('\n');
const ramp_s = Array.from({ length: 30 }, (_, row) => row * 10);
/** @param {readonly number[]} [holes] @returns {(number | null)[]} */
const ramp_C = (holes = []) =>
  ramp_s.map((_, row) => (holes.includes(row) ? null : Number((21.5 + row / 10).toFixed(1))));
const still_C = ramp_s.map(() => 20.3);

/** @type {readonly CorpusLog[]} */
export const corpus = [
  log({
    item: 'preamble of junk lines',
    note: 'five lines of remarks, one of them with delimiters, above the header',
    text: `Bench logger, unit 0000-17\nFirmware 1.2, build 345\n*****\nOwner: nobody, room: 3\n\ntime,pack (°C),room (°C)\n${rows(iso, ',')}\n`,
    startedAt: began,
  }),
  log({
    item: 'quoted headers with units and serial numbers',
    note: 'the delimiter stands inside quoted names',
    text: `"Date Time, UTC","Temp, °C (LGR S/N: 1000017, SEN S/N: 1000018, LBL: pack)","Temp, °C (LGR S/N: 1000017, SEN S/N: 1000019, LBL: room)"\n${rows(iso, ',')}\n`,
    startedAt: began,
  }),
  log({
    item: 'tabs',
    note: 'parted by tabs',
    text: `time\tpack (°C)\troom (°C)\n${rows(iso, '\t')}\n`,
    startedAt: began,
  }),
  log({
    item: 'semicolons and decimal commas',
    note: 'day before month, and the 31st cannot be a month',
    text: `Zeit;Pack (°C);Raum (°C)\n${rows(
      clock.map((time) => `31.05.2024 ${time}`),
      ';',
      ',',
    )}\n`,
    startedAt: began,
  }),
  log({
    item: 'fixed width',
    note: 'names of two words, and an empty cell in the third row, which blanks alone cannot tell',
    text: `Time      Pack face   Room air\n${[0, 1, 2, 3].map((row) => `${clock[row]}${(row === 2 ? '' : (pack_C[row] ?? 0).toFixed(2)).padStart(11)}${(room_C[row] ?? 0).toFixed(2).padStart(11)}`).join('\n')}\n${['10:00:40', '10:00:50'].map((time) => `${time}      22.50      20.50`).join('\n')}\n`,
    after_s: [0, 10, 20, 30, 40, 50],
    readings_C: [
      [21.5, 21.75, null, 22.25, 22.5, 22.5],
      [20.25, 20.25, 20.5, 20.5, 20.5, 20.5],
    ],
  }),
  log({
    item: 'thousands marks',
    note: 'elapsed seconds with a comma behind the thousand',
    text: `elapsed (s),pack (°C),room (°C)\n${rows(['"990.0"', '"1,000"', '"1,010"', '"1,020"'], ',')}\n`,
  }),
  log({
    item: 'byte order mark',
    note: 'UTF-8 with a mark in front of the first name',
    text: `\ufefftime,pack (°C),room (°C)\n${rows(iso, ',')}\n`,
    startedAt: began,
  }),
  log({
    item: 'UTF-16, little-endian, with a mark',
    note: 'as spreadsheets save it',
    bytes: utf16(`\ufefftime\tpack (°C)\troom (°C)\r\n${rows(iso, '\t').replaceAll('\n', '\r\n')}\r\n`, true),
    startedAt: began,
  }),
  log({
    item: 'UTF-16, big-endian, without a mark',
    note: 'told by the zeros in every other byte',
    bytes: utf16(`time,pack (°C),room (°C)\n${rows(iso, ',')}\n`, false),
    startedAt: began,
  }),
  log({
    item: 'legacy encoding',
    note: 'the degree sign is one byte',
    bytes: latin1(`time;pack (\u00b0F);room (\u00b0F)\n${rows(iso, ';')}\n`),
    startedAt: began,
    readings_C: [pack_C, room_C].map((column) => column.map((value) => (value - 32) / 1.8)),
  }),
  log({
    item: 'CR CR LF',
    note: 'line ends doubled on the way',
    text: `time,pack (°C),room (°C)\r\r\n${rows(iso, ',').replaceAll('\n', '\r\r\n')}\r\r\n`,
    startedAt: began,
  }),
  log({
    item: 'blank lines',
    note: 'an empty line after every row',
    text: `time,pack (°C),room (°C)\n\n${rows(iso, ',').replaceAll('\n', '\n\n')}\n\n\n`,
    startedAt: began,
  }),
  log({
    item: 'header again after a restart, with a wall clock',
    note: 'the header stands a second time between the rows',
    text: `time,pack (°C),room (°C)\n${rows(iso, ',').replace('\n2024-05-31 10:00:20', '\ntime,pack (°C),room (°C)\n2024-05-31 10:00:20')}\n`,
    startedAt: began,
    leftOut: 1,
  }),
  log({
    item: 'header again after a restart, with an elapsed time',
    note: 'the count begins again after ten rows; the parts are joined one row apart',
    text: `t (s),pack (°C)\n${Array.from({ length: 10 }, (_, row) => `${row * 5},21.5`).join('\n')}\nt (s),pack (°C)\n${Array.from({ length: 10 }, (_, row) => `${row * 5},22.5`).join('\n')}\n`,
    after_s: Array.from({ length: 20 }, (_, row) => row * 5),
    readings_C: [Array.from({ length: 20 }, (_, row) => (row < 10 ? 21.5 : 22.5))],
    asks: ['time'],
    leftOut: 1,
  }),
  log({
    item: 'date and time in two columns',
    note: 'the date in one column and the time of day in the next',
    text: `Date,Time,pack (°C),room (°C)\n${rows(
      clock.map((time) => `2024-05-31,${time}`),
      ',',
    )}\n`,
    startedAt: began,
  }),
  log({
    item: 'date split over six columns',
    note: 'year, month, day, hour, minute, second',
    text: `Year,Month,Day,Hour,Minute,Second,pack (°C),room (°C)\n${rows(
      [0, 10, 20, 30].map((second) => `2024,5,31,10,0,${second}`),
      ',',
    )}\n`,
    startedAt: began,
  }),
  log({
    item: 'twelve-hour clock with AM and PM',
    note: 'passes noon',
    text: `time,pack (°C),room (°C)\n${rows(
      ['11:59:50 AM', '12:00:00 PM', '12:00:10 PM', '12:00:20 PM'].map((time) => `5/31/2024 ${time}`),
      ',',
    )}\n`,
    startedAt: '2024-05-31T11:59:50.000Z',
  }),
  log({
    item: 'twelve-hour clock, AM and PM in a column of their own',
    note: 'passes noon',
    text: `date,time,half,pack (°C),room (°C)\n${rows(
      ['11:59:50,AM', '12:00:00,PM', '12:00:10,PM', '12:00:20,PM'].map((time) => `5/31/2024,${time}`),
      ',',
    )}\n`,
    startedAt: '2024-05-31T11:59:50.000Z',
  }),
  log({
    item: 'twelve-hour clock without AM and PM',
    note: 'the hour goes from 12 to 1',
    text: `time,pack (°C),room (°C)\n${rows(['12:59:40', '12:59:50', '01:00:00', '01:00:10'], ',')}\n`,
  }),
  log({
    item: 'time zone in the header',
    note: 'two hours ahead of UTC',
    text: `"Date Time, GMT+02:00",pack (°C),room (°C)\n${rows(iso, ',')}\n`,
    startedAt: '2024-05-31T08:00:00.000Z',
  }),
  log({
    item: 'time zone above the table',
    note: 'five and a half hours ahead of UTC',
    text: `Time zone: UTC+5:30\ntime,pack (°C),room (°C)\n${rows(iso, ',')}\n`,
    startedAt: '2024-05-31T04:30:00.000Z',
  }),
  log({
    item: 'ambiguous day and month',
    note: 'the third of April or the fourth of March; asked, the third of April for now',
    text: `time,pack (°C),room (°C)\n${rows(
      clock.map((time) => `03.04.2024 ${time}`),
      ',',
    )}\n`,
    startedAt: '2024-04-03T10:00:00.000Z',
    asks: ['time.order'],
  }),
  log({
    item: 'impossible clock, spacing stated',
    note: 'the clock was never set and stands; the header states ten seconds',
    text: `Interval: 10 s\ntime,pack (°C),room (°C)\n${rows(
      clock.map(() => '2000-01-01 00:00:00'),
      ',',
    )}\n`,
  }),
  log({
    item: 'impossible clock, spacing unknown',
    note: 'no date at all where the clock should be; asked, one second for now',
    text: `time,pack (°C),room (°C)\n${rows(
      clock.map(() => '00/00/0000 00:00:00'),
      ',',
    )}\n`,
    after_s: [0, 1, 2, 3],
    asks: ['time'],
  }),
  log({
    item: 'long form, one stamp',
    note: 'time, name, value; the readings of one time share their stamp',
    text: `time,name,value (°C)\n${iso.map((stamp, row) => `${stamp},pack,${pack_C[row]}\n${stamp},room,${room_C[row]}`).join('\n')}\n`,
    startedAt: began,
  }),
  log({
    item: 'long form, a stamp each',
    note: 'every line has its own stamp, half a second after the one before it',
    text: `t (s);sensor;reading;unit\n${plain_s.map((time_s, row) => `${time_s},0;pack;${String(pack_C[row]).replace('.', ',')};°C\n${time_s},5;room;${String(room_C[row]).replace('.', ',')};°C`).join('\n')}\n`,
  }),
  log({
    item: 'units inside cells',
    note: 'each cell names its unit',
    text: `time,pack,room\n${iso.map((stamp, row) => `${stamp},${pack_C[row]} °C,${room_C[row]} °C`).join('\n')}\n`,
    startedAt: began,
  }),
  log({
    item: 'sentences',
    note: 'several readings in a line of words',
    text: `${iso.map((stamp, row) => `[${stamp}] pack is ${pack_C[row]} °C, room is ${room_C[row]} °C`).join('\n')}\n`,
    startedAt: began,
  }),
  log({
    item: 'sentences of names and equals signs',
    note: 'elapsed milliseconds in front; one reading is missing from the third line',
    text: `${plain_s.map((time_s, row) => `t=${time_s * 1000} ms pack=${pack_C[row]}${row === 2 ? '' : ` room=${room_C[row]}`}`).join('\n')}\n`,
    readings_C: [pack_C, [20.25, 20.25, null, 20.5]],
  }),
  log({
    item: 'sentences with marks in the names',
    note: 'names of two words, and one with a hyphen',
    text: `${iso.map((stamp, row) => `${stamp}: pack face-1 at ${pack_C[row]} C and room air at ${room_C[row]} C.`).join('\n')}\n`,
    startedAt: began,
  }),
  log({
    item: 'sensor open, as a number and as a word',
    note: 'an unplugged sensor writes -127.0, a broken one OL',
    text: `t (s),pack (°C),room (°C)\n${ramp((row, value) => (row === 5 || row === 6 ? '-127.0' : row === 9 ? 'OL' : value))}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C([5, 6, 9]), still_C],
  }),
  log({
    item: 'sensor open, as a number within range',
    note: 'a shorted sensor writes 0.0 for three rows',
    text: `t (s),pack (°C),room (°C)\n${ramp((row, value) => (row >= 5 && row <= 7 ? '0.0' : value))}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C([5, 6, 7]), still_C],
    doubts: [{ kind: 'fault-code', lines: [7, 8, 9] }],
  }),
  log({
    item: 'power-on value',
    note: 'a digital sensor gives 85 before its first conversion, at the start and after a brown-out',
    text: `t (s),pack (°C),room (°C)\n${ramp((row, value) => (row === 0 || row === 12 ? '85.0' : value))}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C([0, 12]), still_C],
    doubts: [{ kind: 'power-on', lines: [2, 14] }],
  }),
  log({
    item: 'a true 85 °C',
    note: 'the probe passes 85 °C on its way; nothing is left out',
    text: `t (s),pack (°C)\n${ramp_s.map((time_s, row) => `${time_s},${(80 + row / 2).toFixed(1)}`).join('\n')}\n`,
    after_s: ramp_s,
    readings_C: [ramp_s.map((_, row) => 80 + row / 2)],
    doubts: [],
  }),
  log({
    item: 'quantised sensor',
    note: 'steps of a quarter kelvin',
    text: `t (s),pack (°C)\n${ramp_s.map((time_s, row) => `${time_s},${(21.5 + Math.round(row / 3) / 4).toFixed(2)}`).join('\n')}\n`,
    after_s: ramp_s,
    readings_C: [ramp_s.map((_, row) => 21.5 + Math.round(row / 3) / 4)],
  }),
  log({
    item: 'lost decimal point, one reading',
    note: 'one reading ten times its neighbours',
    text: `t (s),pack (°C),room (°C)\n${ramp((row, value) => (row === 11 ? value.replace('.', '') : value))}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C([11]), still_C],
    doubts: [{ kind: 'lost-decimal', lines: [13] }],
  }),
  log({
    item: 'lost decimal points, a run of readings beyond the range',
    note: 'four readings a hundred times their neighbours',
    text: `t (s),pack (°C),room (°C)\n${ramp((row, value) => (row > 10 && row < 15 ? `${value.replace('.', '')}0` : value))}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C([11, 12, 13, 14]), still_C],
    doubts: [{ kind: 'lost-decimal', lines: [13, 14, 15, 16] }],
  }),
  log({
    item: 'thousandths of a degree',
    note: 'whole numbers that count in thousandths; asked, thousandths for now',
    text: `t (s),pack,room\n0,21500,20250\n10,21750,20250\n20,22000,20500\n30,22250,20500\n`,
    asks: ['channels.scale'],
  }),
  log({
    item: 'duplicated stamps',
    note: 'two rows bear the stamp of the row before',
    text: `t (s),pack (°C),room (°C)\n${ramp()
      .replace(/(120,.*\n)/, '$1$1')
      .replace(/(200,.*\n)/, '$1200,29.0,20.3\n')}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C(), still_C],
    leftOut: 2,
  }),
  log({
    item: 'out-of-order stamps',
    note: 'two neighbouring rows changed places, once',
    text: `t (s),pack (°C),room (°C)\n${ramp().replace(/(120,.*)\n(130,.*)\n/, '$2\n$1\n')}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C(), still_C],
    late: [15],
  }),
  log({
    item: 'a damaged stamp',
    note: 'one stamp has a digit too many',
    text: `t (s),pack (°C),room (°C)\n${ramp().replace('\n120,', '\n1220,')}\n`,
    after_s: ramp_s.filter((_, row) => row !== 12),
    readings_C: [ramp_C().filter((_, row) => row !== 12), still_C.slice(1)],
    leftOut: 1,
  }),
  log({
    item: 'a clock set while logging',
    note: 'the first three rows are of the year 2000, then the clock was set',
    text: `time,pack (°C)\n${[0, 1, 2].map((row) => `2000-01-01 00:00:0${row},21.5`).join('\n')}\n${Array.from({ length: 40 }, (_, row) => `2024-05-31 10:00:${10 + row},21.5`).join('\n')}\n`,
    after_s: Array.from({ length: 40 }, (_, row) => row),
    readings_C: [Array.from({ length: 40 }, () => 21.5)],
    startedAt: '2024-05-31T10:00:10.000Z',
    leftOut: 3,
  }),
  log({
    item: 'ragged rows',
    note: 'one row is too short, one has a number too many and cannot be told, one has a note behind it',
    text: `t (s),pack (°C),room (°C)\n${ramp().replace(/(\n120,[^,]*),.*\n(130,.*)\n(140,.*)\n/, '$1\n$2,7\n$3,door opened\n')}\n`,
    after_s: ramp_s,
    readings_C: [ramp_C([13]), still_C.map((value, row) => (row === 12 || row === 13 ? null : value))],
  }),
  log({
    item: 'a header that counts cells',
    note: '"second cell" is a place, not a time',
    text: `first cell,second cell,t (s)\n21.5,20.25,0\n21.75,20.25,10\n22,20.5,20\n22.25,20.5,30\n`,
  }),
];
