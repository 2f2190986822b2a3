import { accessSync, constants } from "node:fs";
import { dirname } from "node:path";
import { DatabaseSync, type SQLInputValue, type StatementSync } from "node:sqlite";
import { setTimeout } from "node:timers/promises";
import { UnderfootError } from "@underfoot/domain";
import {
  type Driver,
  SqliteAdapter,
  type SqliteDatabase,
  SqliteDialect,
  type SqliteDialectConfig,
  SqliteDriver,
} from "kysely";
import { diskFault, sqliteFault } from "../faults.ts";

/** How long one process waits for another's transaction, ms. */
export const BUSY_MS = 5000;

/** Between two tries to get the write lock, ms: a transaction of the library takes a few. */
const RETRY_MS = 4;

/** Larger than SQLite's own 4096, so that three results share a page. */
const PAGE_BYTES = 8192;

/** Statements kept ready; the library asks some dozens of different questions. */
const KEPT_STATEMENTS = 200;

const valueForSqlite = (value: unknown): SQLInputValue =>
  typeof value === "boolean" ? Number(value) : ((value ?? null) as SQLInputValue);

class TransactionalAdapter extends SqliteAdapter {
  /** Without this a migration that fails leaves its first tables behind. */
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

class ImmediateDriver extends SqliteDriver {
  readonly #raw: DatabaseSync;
  readonly #file: string;
  constructor(config: SqliteDialectConfig, { raw, file }: { readonly raw: DatabaseSync; readonly file: string }) {
    super(config);
    this.#raw = raw;
    this.#file = file;
  }

  /**
   * The write lock at once: a reader that turns writer half way could not wait for another writer, only fail. Waits
   * without holding up the thread, where SQLite itself would.
   */
  override async beginTransaction(): Promise<void> {
    const lastMs = performance.now() + BUSY_MS;
    for (;;) {
      try {
        this.#raw.exec("pragma busy_timeout = 0");
        this.#raw.exec("begin immediate");
        return;
      } catch (cause) {
        const fault = sqliteFault(this.#file, cause);
        const isBusy = fault instanceof UnderfootError && fault.code === "library-busy";
        if (!isBusy || performance.now() > lastMs) throw fault;
      } finally {
        this.#raw.exec(`pragma busy_timeout = ${BUSY_MS}`);
      }
      await setTimeout(RETRY_MS);
    }
  }

  /** A full disk makes SQLite roll back by itself; there is nothing left to roll back then. */
  override async rollbackTransaction(): Promise<void> {
    if (this.#raw.isTransaction) this.#raw.exec("rollback");
  }
}

class NodeSqliteDialect extends SqliteDialect {
  readonly #driver: () => Driver;
  constructor(config: SqliteDialectConfig, driver: () => Driver) {
    super(config);
    this.#driver = driver;
  }
  override createAdapter(): SqliteAdapter {
    return new TransactionalAdapter();
  }
  override createDriver(): Driver {
    return this.#driver();
  }
}

/** The connection itself, for what only the embedded engine has: its backup, checkpoint and vacuum. */
export interface SqliteConnection {
  readonly dialect: SqliteDialect;
  readonly raw: DatabaseSync;
}

function openRaw(file: string): DatabaseSync {
  const raw = new DatabaseSync(file, { timeout: BUSY_MS, enableForeignKeyConstraints: true });
  try {
    raw.exec(`pragma page_size = ${PAGE_BYTES}`);
    raw.exec("pragma journal_mode = wal");
    raw.exec("pragma synchronous = full");
    raw.exec("pragma secure_delete = on");
    return raw;
  } catch (cause) {
    raw.close();
    throw cause;
  }
}

/** SQLite says only that it cannot open the file; the folder says why. */
function readOnlyFault(file: string): UnderfootError | undefined {
  try {
    accessSync(dirname(file), constants.W_OK);
    return undefined;
  } catch (cause) {
    return diskFault(file, cause, "written");
  }
}

/**
 * Opens the file, again and again while another process has it: two that make one new file at the same moment change its
 * journal at once, and there SQLite refuses without waiting.
 */
async function openPatiently(file: string): Promise<DatabaseSync> {
  const lastMs = performance.now() + BUSY_MS;
  for (;;) {
    try {
      return openRaw(file);
    } catch (cause) {
      const fault = sqliteFault(file, readOnlyFault(file) ?? cause);
      const isBusy = fault instanceof UnderfootError && fault.code === "library-busy";
      if (!isBusy || performance.now() > lastMs) throw fault;
    }
    await setTimeout(RETRY_MS);
  }
}

/** The embedded catalogue: one file, safe against being killed, faults as sentences. */
export async function sqliteConnection(file: string): Promise<SqliteConnection> {
  const told = <T>(deed: () => T): T => {
    try {
      return deed();
    } catch (cause) {
      throw sqliteFault(file, cause);
    }
  };
  const raw = await openPatiently(file);
  const kept = new Map<string, StatementSync>();
  const statementFor = (text: string): StatementSync => {
    const known = kept.get(text);
    if (known) return known;
    const statement = told(() => raw.prepare(text));
    if (kept.size >= KEPT_STATEMENTS) kept.clear();
    kept.set(text, statement);
    return statement;
  };
  const database: SqliteDatabase = {
    close: () => raw.close(),
    prepare: (text) => {
      const statement = statementFor(text);
      return {
        reader: statement.columns().length > 0,
        all: (values) => told(() => statement.all(...values.map(valueForSqlite))),
        run: (values) => told(() => statement.run(...values.map(valueForSqlite))),
        iterate: (values) => statement.iterate(...values.map(valueForSqlite)),
      };
    },
  };
  return { dialect: new NodeSqliteDialect({ database }, () => new ImmediateDriver({ database }, { raw, file })), raw };
}
