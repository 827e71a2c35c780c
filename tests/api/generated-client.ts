import { execFile } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import openapiTS, { astToString } from 'openapi-typescript'

/**
 * A client made from the description by programs that had no part in it: openapi-typescript makes the types,
 * openapi-fetch asks by them. Of the public generators these run on Node 20 and leave checking to the compiler.
 */

/** A folder with the types of a description and programs that use them. */
export async function clientFolder(description: object, programs: Record<string, string>): Promise<string> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-client-'))
  fs.symlinkSync(path.resolve('node_modules'), path.join(folder, 'node_modules'))
  const types = await openapiTS(JSON.stringify(description))
  const files = {
    ...programs,
    'api.ts': astToString(types),
    'package.json': '{ "type": "module" }',
    'tsconfig.json': JSON.stringify(TSCONFIG),
  }
  for (const [name, text] of Object.entries(files)) fs.writeFileSync(path.join(folder, name), text)
  return folder
}

const TSCONFIG = {
  compilerOptions: {
    ...{ target: 'es2022', lib: ['es2023', 'dom'], module: 'esnext', moduleResolution: 'bundler' },
    ...{ strict: true, noUncheckedIndexedAccess: true, noEmit: true, skipLibCheck: true, types: ['node'] },
  },
  include: ['*.ts'],
}

const run = (folder: string, file: string, args: string[], variables = {}) =>
  new Promise<{ code: number; said: string; told: string }>((resolve) => {
    const env = { ...process.env, ...variables }
    execFile(process.execPath, [file, ...args], { cwd: folder, env }, (error, said, told) =>
      resolve({ code: error ? Number(error.code) : 0, said, told }),
    )
  })

/** The files in which the compiler finds an error, each once. */
export async function filesInError(folder: string): Promise<string[]> {
  const { said } = await run(folder, path.resolve('node_modules/typescript/bin/tsc'), ['--pretty', 'false'])
  return [...new Set([...said.matchAll(/^([\w-]+\.ts)\(/gm)].map(([, file = '']) => file))].sort()
}

/** Runs a program of the folder; what it says, as JSON. */
export async function runProgram(folder: string, program: string, variables: Record<string, string>) {
  const { code, said, told } = await run(folder, '--import', ['tsx', program], variables)
  if (code !== 0) throw new Error(`${program} ended with ${code}:\n${told}`)
  return JSON.parse(said) as Record<string, unknown>
}
