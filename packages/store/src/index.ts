/** Store: builds and raw logs, kept without loss in one SQLite file or in plain folders. It computes nothing. */
export { type DriverName, findDrivers } from './driver.js';
export { NoSuchStepError, RevisionConflictError, UnknownBuildError } from './errors.js';
export type { Stored } from './history.js';
export { openLogFile, piecesIn } from './log-file.js';
export { hashLog, type StoredLog } from './log-shelf.js';
export { type BuildFolder, readFolder } from './read-folder.js';
export { type BuildSummary, openStore, type Store, type StoreOptions } from './store.js';
export { changeFolder, writeFolder } from './write-folder.js';
