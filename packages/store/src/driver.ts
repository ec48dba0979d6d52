/**
 * The little that the store asks of a SQLite library, and the two libraries that give it.
 *
 * `node:sqlite` comes with Node from 22.13 on and needs no installation; before that, `better-sqlite3` does the same.
 */

export type SqlValue = string | number | Uint8Array | null;
export type Row = Record<string, unknown>;

export interface Statement {
  run(...values: SqlValue[]): void;
  get(...values: SqlValue[]): Row | undefined;
  all(...values: SqlValue[]): Row[];
}

export interface Driver {
  readonly name: DriverName;
  exec(sql: string): void;
  prepare(sql: string): Statement;
  close(): void;
}

export type DriverName = 'node' | 'better';

/** Both libraries have this shape; only their way of opening differs. */
interface SqliteHandle {
  exec(sql: string): unknown;
  prepare(sql: string): {
    run(...values: SqlValue[]): unknown;
    get(...values: SqlValue[]): unknown;
    all(...values: SqlValue[]): unknown[];
  };
  close(): void;
}

type Opener = (file: string) => SqliteHandle;

const loaders: Record<DriverName, () => Promise<Opener>> = {
  async node() {
    // The name stands in a variable because bundlers and older type packages do not know this module.
    const moduleName = 'node:sqlite';
    const { DatabaseSync } = (await quietly(() => import(/* @vite-ignore */ moduleName))) as {
      DatabaseSync: new (file: string) => SqliteHandle;
    };
    return (file) => new DatabaseSync(file);
  },
  async better() {
    const moduleName = 'better-sqlite3';
    const { default: Database } = (await import(/* @vite-ignore */ moduleName)) as {
      default: new (file: string) => SqliteHandle;
    };
    // Its native part is loaded by the first database, so a missing or mismatched binary shows only now.
    new Database(':memory:').close();
    return (file) => new Database(file);
  },
};

/** Node announces `node:sqlite` as experimental on every start; that is no news to the person at the bench. */
async function quietly<T>(load: () => Promise<T>): Promise<T> {
  const emitWarning = process.emitWarning;
  process.emitWarning = ((warning: string | Error, ...rest: never[]) => {
    if (!/sqlite is an experimental feature/i.test(String(warning)))
      emitWarning.call(process, warning, ...rest);
  }) as typeof process.emitWarning;
  try {
    return await load();
  } finally {
    process.emitWarning = emitWarning;
  }
}

/**
 * The SQLite libraries that load on this machine, best first.
 *
 * @param wanted `node` or `better` to ask for one of them only
 */
export async function findDrivers(wanted?: string): Promise<DriverName[]> {
  const usable: DriverName[] = [];
  for (const name of namesFor(wanted)) {
    try {
      await loaders[name]();
      usable.push(name);
    } catch {
      // Not usable here; the caller decides whether that matters.
    }
  }
  return usable;
}

/**
 * Opens a database file with the first SQLite library that loads.
 *
 * @param file path of the database; it is created where there is none
 * @param wanted `node` or `better` to force one; the environment variable SOAKBENCH_SQLITE by default
 * @throws Error naming what was tried and the remedy where no library loads
 */
export async function openDriver(
  file: string,
  wanted: string | undefined = process.env['SOAKBENCH_SQLITE'],
): Promise<Driver> {
  const reasons: string[] = [];
  for (const name of namesFor(wanted)) {
    let open: Opener;
    try {
      open = await loaders[name]();
    } catch (error) {
      reasons.push(`${moduleNames[name]}: ${(error as Error).message.split('\n')[0]}`);
      continue;
    }
    try {
      return wrap(name, open(file));
    } catch (error) {
      throw new Error(`The store ${file} cannot be opened: ${(error as Error).message}.`, { cause: error });
    }
  }
  throw new Error(
    `No SQLite library could be loaded (${reasons.join('; ')}). ` +
      'Use Node 22.13 or newer, which brings its own, or run "npm ci --include=optional" with this Node and a C++ compiler at hand.',
  );
}

const moduleNames: Record<DriverName, string> = { node: 'node:sqlite', better: 'better-sqlite3' };

function namesFor(wanted: string | undefined): DriverName[] {
  if (wanted === undefined || wanted === '') return ['node', 'better'];
  if (wanted === 'node' || wanted === 'better') return [wanted];
  throw new Error(`SOAKBENCH_SQLITE is "${wanted}"; it takes "node" or "better", or leave it unset.`);
}

function wrap(name: DriverName, handle: SqliteHandle): Driver {
  return {
    name,
    exec: (sql) => void handle.exec(sql),
    prepare(sql) {
      const statement = handle.prepare(sql);
      return {
        run: (...values) => void statement.run(...values),
        get: (...values) => (statement.get(...values) as Row | undefined) ?? undefined,
        all: (...values) => statement.all(...values) as Row[],
      };
    },
    close: () => handle.close(),
  };
}

/** Readers are not held up by a writer, and a commit waits for the disk: what was acknowledged survives a power cut. */
export function makeDurable(driver: Driver): void {
  driver.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;');
}

/**
 * Runs `work` as one transaction: all of it is kept, or nothing.
 *
 * The write lock is taken at the start, so that what `work` reads cannot change under it.
 */
export function inTransaction<T>(driver: Driver, work: () => T): T {
  driver.exec('BEGIN IMMEDIATE');
  let result: T;
  try {
    result = work();
    driver.exec('COMMIT');
  } catch (error) {
    try {
      driver.exec('ROLLBACK');
    } catch {
      // SQLite has already rolled back by itself, as it does on a full disk; the first error is the one to report.
    }
    throw error;
  }
  return result;
}
