import fs from 'node:fs/promises'
import path from 'node:path'
import { backUp } from '@/lib/store/back-up'
import { Loop } from './inner/loop'

/** Where backups go by themselves, and how many of them are kept. */
export type BackupPlan = { folder: string; kept: number }

/** What could not be written (the disk is full) is not tried again with every look. */
const AFTER_FAILURE_MS = 3_600_000

const NAME = /^gudgeon-\d{4}-\d\d-\d\d\.zip$/

/**
 * Writes a backup of the whole installation where there is none of this day (UTC) yet, and removes the oldest of those
 * that were written so; other files of the folder are left alone.
 *
 * @param adminUrl the address that migrations run at
 * @returns the file that was written; null where there was one
 */
export async function backUpOnce(
  adminUrl: string,
  { folder, kept }: BackupPlan,
  now: Date,
): Promise<string | null> {
  await fs.mkdir(folder, { recursive: true, mode: 0o700 })
  const name = `gudgeon-${now.toISOString().slice(0, 10)}.zip`
  const ours = async () => (await fs.readdir(folder)).filter((file) => NAME.test(file)).sort()
  if ((await ours()).includes(name)) return null
  const file = path.join(folder, name)
  await backUp(adminUrl, file, now)
  for (const old of (await ours()).slice(0, -kept)) await fs.rm(path.join(folder, old), { force: true })
  return file
}

/** Writes a backup each day while the product runs. @returns what stops it */
export function backUpDaily(
  adminUrl: string,
  plan: BackupPlan,
  { now, say }: { now: () => Date; say: (line: string) => void },
): () => void {
  let notBefore = Number.NEGATIVE_INFINITY
  const loop = new Loop(async () => {
    if (now().getTime() < notBefore) return
    try {
      await backUpOnce(adminUrl, plan, now())
    } catch (error) {
      notBefore = now().getTime() + AFTER_FAILURE_MS
      const reason = error instanceof Error ? error.message : error
      say(
        `The backup of today could not be written to ${plan.folder}: ${reason}. It is tried again in an hour`,
      )
    }
  })
  void loop.run()
  return () => loop.stop()
}
