// Compares a database with prisma/schema by the WASM build of Prisma's schema engine: the binary would have to be
// fetched from outside the registry. Here it only compares and drafts; migrations are applied by our own runner.
import fs from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import { PrismaPg } from '@prisma/adapter-pg'
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils'
import * as engineModule from '@prisma/schema-engine-wasm/schema_engine_bg'
import pg from 'pg'
import { inProject } from '../place.mjs'

const CHAR_OID = 18
const JSON_OID = 114

let instantiated

/** The package is made for bundlers; elsewhere its module has to be put together by hand. */
async function instantiate() {
  globalThis.PRISMA_WASM_PANIC_REGISTRY = { message: '', set_message: (message) => console.error(message) }
  const script = createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm/schema_engine_bg')
  const bytes = fs.readFileSync(script.replace(/\.js$/, '.wasm'))
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': engineModule })
  engineModule.__wbg_set_wasm(instance.exports)
  instance.exports.__wbindgen_start()
}

/** The adapter refuses the catalogue's type "char": it is passed off as JSON, and named a character again below. */
function disguiseChar(result) {
  for (const field of result?.fields ?? []) if (field.dataTypeID === CHAR_OID) field.dataTypeID = JSON_OID
  return result
}

class CataloguePool extends pg.Pool {
  async query(...args) {
    return disguiseChar(await super.query(...args))
  }
}

async function openAdapter(pool) {
  const adapter = await new PrismaPg(pool).connect()
  const queryRaw = adapter.queryRaw.bind(adapter)
  adapter.queryRaw = async (query) => {
    const result = await queryRaw(query)
    const columnTypes = result.columnTypes.map((type) =>
      type === ColumnTypeEnum.Json ? ColumnTypeEnum.Character : type,
    )
    return { ...result, columnTypes }
  }
  return adapter
}

function readSchema() {
  const folder = inProject('prisma/schema')
  const names = fs
    .readdirSync(folder)
    .filter((name) => name.endsWith('.prisma'))
    .sort()
  return names.map((name) => {
    const file = path.join(folder, name)
    return { path: file, content: fs.readFileSync(file, 'utf8') }
  })
}

function makeFactory(pool) {
  const connect = () => openAdapter(pool)
  return { provider: 'postgres', adapterName: '@prisma/adapter-pg', connect, connectToShadowDb: connect }
}

/**
 * What would have to be done to the database for it to be what the schema says.
 * @param {string} url
 * @param {{isScript?: boolean}} [options] SQL instead of words
 * @returns {Promise<string | null>} null when they agree
 */
export async function compareWithSchema(url, { isScript = false } = {}) {
  instantiated ??= instantiate() // a second instance would write into the memory of the first
  await instantiated
  const pool = new CataloguePool({ connectionString: url, options: '-c TimeZone=UTC', max: 2 })
  try {
    const files = readSchema()
    const factory = bindMigrationAwareSqlAdapterFactory(makeFactory(pool))
    const datamodels = files.map((file) => [file.path, file.content])
    const engine = await engineModule.SchemaEngine.new({ datamodels }, () => {}, factory)
    const { exitCode, stdout } = await engine.diff({
      from: { tag: 'schemaDatasource', files, configDir: inProject() },
      to: { tag: 'schemaDatamodel', files },
      script: isScript,
      exitCode: true,
      shadowDatabaseUrl: null,
      filters: { externalTables: [], externalEnums: [] },
    })
    return exitCode === 0 ? null : stdout
  } finally {
    await pool.end()
  }
}
