/**
 * A product that enters readings one after the other until it is killed, and says the number of each once it is kept:
 * `node --import tsx tests/store/writer.ts HOME FIRST`.
 */
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { anOrganisation, EXAMPLE, NOW } from './example-records'

const [home = '', first] = process.argv.slice(2)
const { url } = await startDatabase({ home })
const database = await openDatabase(url, { kind: 'command', name: 'test' })
const [known] = await readOrganisations(database)
const organisation = known ? organisationId(known.id) : await anOrganisation(database, 'killed')
const [reading] = EXAMPLE.readings
for (let n = Number(first); ; n++) {
  const readings = reading ? [{ ...reading, odometerKm: n }] : []
  const records = { ...EXAMPLE, readings }
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, records, { now: NOW, by: null }),
    'write',
  )
  process.stdout.write(`${n}\n`)
}
