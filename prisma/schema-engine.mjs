#!/usr/bin/env node
// Stands in for Prisma's schema-engine binary: the same JSON-RPC lines on stdin and stdout, answered by
// @prisma/schema-engine-wasm through a JavaScript driver. With SCHEMA_ENGINE_MEMORY=1 `prisma migrate diff`
// needs no server: a PostgreSQL in memory (PGlite) plays the database and its shadow.
import fs from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import readline from 'node:readline'
import { pathToFileURL } from 'node:url'
import pg from 'pg'

const args = process.argv.slice(2)
const valuesOf = (name) => args.flatMap((arg, i) => (arg === name ? [args[i + 1]] : []))

if (args.includes('--version') || args.includes('-V')) {
  console.log('schema-engine-cli wasm')
  process.exit(0)
}

const datasource = valuesOf('--datasource')[0]
const url = (datasource ? JSON.parse(datasource).url : undefined) ?? process.env.DATABASE_URL ?? ''

/** Discrete fields and no connectionString: that one would win over `database`, and the shadow database
 *  would silently be the real one. */
function connectionFields(address) {
  const { hostname, port, username, password, pathname } = new URL(address)
  return {
    host: decodeURIComponent(hostname),
    port: Number(port || 5432),
    user: decodeURIComponent(username) || 'postgres',
    password: decodeURIComponent(password) || undefined,
    database: decodeURIComponent(pathname.slice(1)) || 'postgres',
    max: 2,
  }
}

async function runSql(sql, database) {
  const client = new pg.Client({ ...connectionFields(url), ...(database ? { database } : {}) })
  await client.connect()
  try {
    await client.query(sql)
  } finally {
    await client.end()
  }
}

/** The engine's command-line half: is the database there, make it, drop it. */
async function answerCommand() {
  const name = connectionFields(url).database.replaceAll('"', '""')
  try {
    if (args.includes('create-database')) await runSql(`CREATE DATABASE "${name}"`, 'postgres')
    else if (args.includes('drop-database')) await runSql(`DROP DATABASE "${name}"`, 'postgres')
    else await runSql('SELECT 1')
  } catch (error) {
    const fields = {
      error_code: error.code === '3D000' ? 'P1003' : 'P1001',
      message: error.message,
      is_panic: false,
    }
    process.stderr.write(`\n${JSON.stringify({ level: 'ERROR', target: 'schema_engine::logger', fields })}\n`)
    process.exit(1)
  }
  process.exit(0)
}

async function loadEngine() {
  const folder = path.dirname(createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm'))
  const glue = await import(pathToFileURL(path.join(folder, 'schema_engine_bg.js')).href)
  const module = new WebAssembly.Module(fs.readFileSync(path.join(folder, 'schema_engine_bg.wasm')))
  const instance = new WebAssembly.Instance(module, { './schema_engine_bg.js': glue })
  glue.__wbg_set_wasm(instance.exports)
  instance.exports.__wbindgen_start()
  return glue.SchemaEngine
}

/** The driver does not know the catalogue type "char" (OID 18) that the engine reads: call it text on the way
 *  in and a character on the way out. */
function knowingChar(connection, ColumnTypeEnum) {
  const performIO = connection.performIO.bind(connection)
  const queryRaw = connection.queryRaw.bind(connection)
  let chars = []
  connection.performIO = async (query) => {
    const result = await performIO(query)
    chars = result.fields.flatMap((field, i) => (field.dataTypeID === 18 ? [i] : []))
    const fields = result.fields.map((field) =>
      field.dataTypeID === 18 ? { ...field, dataTypeID: 25 } : field,
    )
    return chars.length > 0 ? { ...result, fields } : result
  }
  connection.queryRaw = async (query) => {
    const result = await queryRaw(query)
    for (const i of chars) result.columnTypes[i] = ColumnTypeEnum.Character
    return result
  }
  return connection
}

/** A server's driver; its own shadow database is dropped only after its connections are closed. */
async function serverFactory(ColumnTypeEnum) {
  const { PrismaPg } = await import('@prisma/adapter-pg')
  const fields = connectionFields(url)
  const factory = new PrismaPg(fields)
  const connect = factory.connect.bind(factory)
  factory.connect = async () => knowingChar(await connect(), ColumnTypeEnum)
  factory.connectToShadowDb = async () => {
    const database = `prisma_migrate_shadow_db_${crypto.randomUUID()}`
    await runSql(`CREATE DATABASE "${database}"`)
    const connection = knowingChar(await new PrismaPg({ ...fields, database }).connect(), ColumnTypeEnum)
    const dispose = connection.dispose.bind(connection)
    connection.dispose = async () => {
      await dispose()
      await runSql(`DROP DATABASE IF EXISTS "${database}" WITH (FORCE)`)
    }
    return connection
  }
  return factory
}

/** PGlite's driver, with scripts awaited: otherwise an error in the SQL would go unseen. */
async function memoryFactory() {
  const { PGlite } = await import('@electric-sql/pglite')
  const { PrismaPGlite } = await import('pglite-prisma-adapter')
  const factory = new PrismaPGlite(new PGlite('memory://main'))
  for (const method of ['connect', 'connectToShadowDb']) {
    const open = factory[method].bind(factory)
    factory[method] = async () => {
      const connection = await open()
      connection.executeScript = async (script) => {
        await connection.client.exec(script)
      }
      return connection
    }
  }
  return factory
}

let engine
async function engineFor(method) {
  if (engine) return engine
  const { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } = await import('@prisma/driver-adapter-utils')
  const inMemory = process.env.SCHEMA_ENGINE_MEMORY === '1' && method === 'diff'
  const factory = bindMigrationAwareSqlAdapterFactory(
    inMemory ? await memoryFactory() : await serverFactory(ColumnTypeEnum),
  )
  const files = valuesOf('--datamodels').map((file) => [file, fs.readFileSync(file, 'utf8')])
  const SchemaEngine = await loadEngine()
  engine = await SchemaEngine.new({ datamodels: files.length > 0 ? files : undefined }, () => {}, factory)
  return engine
}

const send = (message) => process.stdout.write(`${JSON.stringify({ jsonrpc: '2.0', ...message })}\n`)
const METHOD_ALIASES = { getDatabaseVersion: 'version' }

async function answerRequest({ id, method, params }) {
  try {
    const result = await (await engineFor(method))[METHOD_ALIASES[method] ?? method](params ?? {})
    if (method === 'diff' && result?.stdout != null)
      send({ id: 1e9 + id, method: 'print', params: { content: result.stdout } })
    send({ id, result: result ?? {} })
  } catch (error) {
    const message = String(error?.message ?? error)
    const data = { is_panic: false, message, meta: null, error_code: error?.code ?? '', backtrace: null }
    send({ id, error: { code: 4466, message, data } })
  }
}

if (args.some((arg) => ['cli', 'can-connect-to-database', 'create-database', 'drop-database'].includes(arg)))
  await answerCommand()

let answered = Promise.resolve()
const lines = readline.createInterface({ input: process.stdin })
lines.on('line', (line) => {
  const request = line.trim() ? JSON.parse(line) : {}
  if (request.method) answered = answered.then(() => answerRequest(request)) // a line without one answers our print
})
lines.on('close', () => answered.then(() => process.exit(0)))
process.on('SIGTERM', () => process.exit(0))
