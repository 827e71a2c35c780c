import fs from 'node:fs'
import path from 'node:path'

/** The one without windows first: with it a page takes half of the time. */
const NAMES = [
  'chromium-headless-shell',
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
]

/** The browser that the tests drive: the variable CHROMIUM, else the first of its names on the path; null for none. */
export function chromiumPath(): string | null {
  const folders = (process.env.PATH ?? '').split(path.delimiter)
  const candidates = NAMES.flatMap((name) => folders.map((folder) => path.join(folder, name)))
  return (
    [process.env.CHROMIUM ?? '', ...candidates].find((file) => file !== '' && fs.existsSync(file)) ?? null
  )
}
