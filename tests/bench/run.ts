/** `npm run bench`: the speed table. `-- --only watchlist` measures that alone; `--json FILE` writes it as JSON as well. */
import { writeFileSync } from 'node:fs'
import { Command, Option } from 'commander'
import type { BenchEntry } from './bench-entry'
import { decideBench } from './decide'
import { fittingBench } from './fitting'
import { intakeBench } from './intake'
import { loadBench } from './load'
import { longListBench } from './long-list'
import { planBench } from './plan'
import { productBench } from './product'
import { propagationBench } from './propagation'
import { replayBench } from './replay'
import { watchlistBench } from './watchlist'
import { wholeFleetBench } from './whole-fleet'

const BENCHES: Record<string, () => BenchEntry[] | Promise<BenchEntry[]>> = {
  propagation: propagationBench,
  fitting: fittingBench,
  'whole-fleet': wholeFleetBench,
  replay: replayBench,
  decide: decideBench,
  plan: planBench,
  watchlist: watchlistBench,
  product: productBench,
  intake: intakeBench,
  'long-list': longListBench,
  load: loadBench,
}

const { json, only } = new Command()
  .name('bench')
  .option('--json <file>', 'write the entries to a file')
  .addOption(new Option('--only <bench>', 'measure this alone').choices(Object.keys(BENCHES)))
  .parse()
  .opts<{ json?: string; only?: string }>()

const entries: BenchEntry[] = []
for (const [name, bench] of Object.entries(BENCHES)) {
  for (const entry of only === undefined || only === name ? await bench() : []) {
    entries.push(entry)
    const verdict = entry.holds ? 'holds' : 'MISSED'
    console.log(
      `${verdict.padEnd(7)} ${entry.value.toFixed(2).padStart(8)} ${entry.unit} (at most ${entry.target})  ${entry.name}`,
    )
  }
}
if (json) writeFileSync(json, `${JSON.stringify(entries, null, 2)}\n`)
