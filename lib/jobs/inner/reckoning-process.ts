/** A process that keeps up to date what follows from scores and nobody waits for: it runs until it is ended. */
import os from 'node:os'
import { openDatabase } from '@/lib/store/database'
import { listenForStale } from '@/lib/store/listen-for-stale'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { freshenMoney } from '../freshen-money'
import { freshenStock } from '../freshen-stock'
import { forEachOrganisation } from './for-each-organisation'
import { Loop } from './loop'

/** Where the records are, and how far the clock of whoever asked is ahead of the machine's. */
export type Reckoning = { url: string; aheadMs: number }

os.setPriority(os.constants.priority.PRIORITY_BELOW_NORMAL)

process.on('message', async ({ url, aheadMs }: Reckoning) => {
  const database = await openDatabase(url, { kind: 'job', name: 'reckon' })
  const reckon = async (organisation: OrganisationId) => {
    const now = new Date(Date.now() + aheadMs)
    await freshenStock(database, organisation, now)
    await freshenMoney(database, organisation, now)
  }
  const loop = new Loop(() =>
    forEachOrganisation(database, reckon, { name: 'reckon', isStopped: () => false }),
  )
  listenForStale(url, () => loop.wake())
  await loop.run()
})
// A terminal tells every process of its end; whoever asked ends this one, and where that is gone, it goes too.
process.on('SIGINT', () => {})
process.on('disconnect', () => process.exit())
