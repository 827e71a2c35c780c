/** Delivers in a process of its own, so that a test can kill it: url, organisation. */
import { deliverWebhooks } from '@/lib/jobs/deliver-webhooks'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'

async function deliver(): Promise<void> {
  const [url = '', id = ''] = process.argv.slice(2)
  const database = await openDatabase(url, { kind: 'command', name: 'test' })
  const surroundings = { anywhere: true, productAddress: 'https://gudgeon.example' }
  await deliverWebhooks(database, organisationId(id), () => new Date(), surroundings)
}

void deliver()
