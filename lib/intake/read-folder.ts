import { readdir, readFile } from 'node:fs/promises'
import path from 'node:path'
import type { Library } from '@/lib/records/library'
import type { Settings } from '@/lib/records/settings'
import type { Day } from '@/lib/units/dates'
import { IntakeRefusal } from './findings'
import { DATA_FILES, type Intake, readFiles } from './read-files'
import { readSettings } from './read-settings'

/**
 * Takes in a data folder.
 *
 * @param dir the folder; files that are not of the format are left alone.
 * @param library the knowledge that names in the rows refer to.
 * @param today rows dated later are rejected.
 * @throws IntakeRefusal, with the folder named, where nothing can be taken in.
 */
export async function readFolder(dir: string, library: Library, today: Day): Promise<Intake> {
  const files = new Map<string, Uint8Array>()
  for (const name of await ourFiles(dir)) files.set(name, await readFile(path.join(dir, name)))
  return named(dir, () => readFiles(files, library, today))
}

/** The settings of a data folder alone: they say in which time zone today is. */
export async function readFolderSettings(dir: string): Promise<Settings> {
  const names = await ourFiles(dir)
  const bytes = names.includes('settings.json') ? await readFile(path.join(dir, 'settings.json')) : undefined
  return named(dir, () => readSettings(bytes).settings)
}

async function ourFiles(dir: string): Promise<string[]> {
  const entries = await readdir(dir, { withFileTypes: true }).catch(() => null)
  if (entries === null) throw new IntakeRefusal(`${dir}: is no folder that can be read`)
  const names = entries.filter((entry) => !entry.isDirectory()).map(({ name }) => name)
  if (names.length === 0) throw new IntakeRefusal(`${dir}: is empty; expected ${DATA_FILES.join(', ')}`)
  return DATA_FILES.filter((name) => names.includes(name))
}

/** Says in which folder a refusal arose. */
function named<Answer>(dir: string, act: () => Answer): Answer {
  try {
    return act()
  } catch (error) {
    throw error instanceof IntakeRefusal ? new IntakeRefusal(`${dir}: ${error.message}`) : error
  }
}
