/**
 * A product that does what was asked of files that are brought in, until it has done it or is killed:
 * `node --import tsx tests/jobs/intake-worker.ts ADDRESS ORGANISATION`.
 */
import { workOnIntakes } from '@/lib/jobs/work-on-intakes'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'

const [address = '', organisation = ''] = process.argv.slice(2)
const database = await openDatabase(address, { kind: 'command', name: 'test' })
await workOnIntakes(database, organisationId(organisation), () => new Date())
await database.$disconnect()
