import type { OrganisationScope } from '@/lib/store/with-organisation'
import { writeDelivery } from '@/lib/store/write/write-delivery'

/** Has the organisation's address told something that means nothing, so that people see whether it arrives. */
export function testWebhook(scope: OrganisationScope, now: Date): Promise<void> {
  const body = JSON.stringify({
    type: 'test',
    timestamp: now.toISOString(),
    data: { path: '/settings#webhook' },
  })
  return writeDelivery(scope, { kind: 'test', body }, now)
}
