import { logEvent } from '@/lib/log/log-event.mjs'

/** A form of another site is sent with another origin. */
export function isOurForm(request: Request): boolean {
  const origin = request.headers.get('origin')
  const ours = origin !== null && URL.canParse(origin) && new URL(origin).host === request.headers.get('host')
  if (!ours) logEvent('form of elsewhere refused')
  return ours
}

/** The fields and files of a body that was read whole; null where it is no form. */
export const formIn = (body: Buffer<ArrayBuffer>, headers: Headers): Promise<FormData | null> =>
  new Response(body, { headers: { 'Content-Type': headers.get('content-type') ?? '' } })
    .formData()
    .catch(() => null)
