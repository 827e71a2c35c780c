import { execFile } from 'node:child_process'
import crypto from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { promisify } from 'node:util'
import { RUNS_AS_ROOT, SERVER_USER } from './embedded-place'
import type { EmbeddedPrograms } from './embedded-programs'

/** The role that initdb makes. It may do everything, so the product never works as it. */
export const ADMIN_ROLE = 'gudgeon_admin'

export const dataFolder = (place: string) => path.join(place, 'data')
export const adminPassword = (place: string) => fs.readFileSync(path.join(place, 'admin.password'), 'utf8')

/** What the server's processes inherit: nothing that would change how it sorts, speaks or keeps time. */
export const SERVER_ENVIRONMENT = { ...process.env, LC_ALL: 'C', LC_MESSAGES: 'C', TZ: 'UTC' }

const SETTINGS = {
  listen_addresses: '127.0.0.1',
  unix_socket_directories: '',
  max_connections: '60',
  timezone: 'UTC',
  log_timezone: 'UTC',
}

/**
 * Makes an empty database cluster in `place` unless one is there. It is made beside and moved in whole, so that a
 * start that is killed, or two starts at once, leave no half cluster.
 */
export async function ensureCluster(place: string, programs: EmbeddedPrograms): Promise<void> {
  if (fs.existsSync(place)) return
  const unfinished = fs.mkdtempSync(`${place}.new-`)
  const passwordFile = path.join(unfinished, 'admin.password')
  fs.writeFileSync(passwordFile, crypto.randomBytes(24).toString('base64url'), { mode: 0o600 })
  if (RUNS_AS_ROOT) for (const made of [unfinished, passwordFile]) chownToServer(made)

  const settings = Object.entries(SETTINGS).flatMap(([name, value]) => ['--set', `${name}=${value}`])
  await promisify(execFile)(
    programs.initdb,
    [
      ...['-D', dataFolder(unfinished), '-U', ADMIN_ROLE, '--auth=scram-sha-256', `--pwfile=${passwordFile}`],
      // Not --locale=C alone: that one knows no lower case beyond ASCII.
      ...['--encoding=UTF8', '--locale-provider=builtin', '--builtin-locale=C.UTF-8', '--locale=C'],
      ...settings,
    ],
    { ...SERVER_USER, env: SERVER_ENVIRONMENT, cwd: unfinished },
  )
  try {
    fs.renameSync(unfinished, place)
  } catch (error) {
    fs.rmSync(unfinished, { recursive: true })
    if (!fs.existsSync(place)) throw error // else another start was first, and its cluster is as good
  }
}

function chownToServer(file: string): void {
  fs.chownSync(file, SERVER_USER.uid ?? -1, SERVER_USER.gid ?? -1)
}
