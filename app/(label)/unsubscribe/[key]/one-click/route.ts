import { redirect } from 'next/navigation'
import { unsubscribe } from '@/lib/people/unsubscribe'
import { productDatabase } from '@/lib/store/product-database'

type Props = { params: Promise<{ key: string }> }

/** What a mail program sends by itself when somebody presses its “unsubscribe” (RFC 8058): it is done, without a page. */
export async function POST(_request: Request, { params }: Props): Promise<Response> {
  const stopped = await unsubscribe(await productDatabase(), (await params).key, new Date())
  return new Response(stopped ? 'Stopped.\n' : 'There is no such address.\n', { status: stopped ? 200 : 404 })
}

/** Whoever follows the link is asked: what looks through mails for dangerous links must not stop them. */
export async function GET(_request: Request, { params }: Props): Promise<Response> {
  redirect(`/unsubscribe/${encodeURIComponent((await params).key)}`)
}
