/** `npm run bench`: the speed table. `-- --json FILE` writes it as JSON as well. */
import { writeFileSync } from 'node:fs'
import { Command } from 'commander'
import type { BenchEntry } from './bench-entry'
import { propagationBench } from './propagation'
import { watchlistBench } from './watchlist'
import { wholeFleetBench } from './whole-fleet'

const { json } = new Command()
  .name('bench')
  .option('--json <file>', 'write the entries to a file')
  .parse()
  .opts<{ json?: string }>()

const entries: BenchEntry[] = []
for (const bench of [propagationBench, wholeFleetBench, watchlistBench]) {
  for (const entry of await bench()) {
    entries.push(entry)
    const verdict = entry.holds ? 'holds' : 'MISSED'
    console.log(
      `${verdict.padEnd(7)} ${entry.value.toFixed(2).padStart(8)} ${entry.unit} (at most ${entry.target})  ${entry.name}`,
    )
  }
}
if (json) writeFileSync(json, `${JSON.stringify(entries, null, 2)}\n`)
