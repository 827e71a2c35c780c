import type { ReactNode } from 'react'
import { getReady } from '@/lib/jobs/get-ready'
import { logFailedWork } from '@/lib/log/log-failed-work.mjs'
import { productDatabase } from '@/lib/store/product-database'

let begun = false

/**
 * With the first page of a vehicle that is asked for, this process gets ready to score what will be entered there. The
 * web server asks for one itself when it has started.
 */
export default function VehicleLayout({ children }: { children: ReactNode }) {
  if (!begun && process.env.NODE_ENV === 'production') {
    begun = true
    productDatabase()
      .then((database) => getReady(database, () => new Date()))
      .catch((error: unknown) => logFailedWork('get-ready', error))
  }
  return children
}
