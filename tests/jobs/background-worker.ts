/**
 * A product that does what an organisation's records, its people and its day ask for, until it has done it or is killed:
 * `node --import tsx tests/jobs/background-worker.ts ADDRESS ORGANISATION`. Says when it begins.
 */
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { planWhenAsked } from '@/lib/jobs/plan-when-asked'
import { refitWhenDue } from '@/lib/jobs/refit'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { NOW } from './demo-fleet'

const [address = '', id = ''] = process.argv.slice(2)
const database = await openDatabase(address, { kind: 'job', name: 'test' })
const organisation = organisationId(id)
console.log('begun')
await freshenScores(database, organisation, NOW)
await refitWhenDue(database, organisation, () => NOW)
await freshenScores(database, organisation, NOW)
await planWhenAsked(database, organisation, () => NOW)
await database.$disconnect()
