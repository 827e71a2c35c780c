import { scoreLines, scoreObject, scoresHeader } from '@/lib/intake/score-columns'
import { LIST_SCORES } from '../../contract'
import { csvResponse, wantsCsv } from '../../csv'
import { MOST_ROWS } from '../../query'
import { type Pages, readPlace, scoresFor, writePlace } from '../../score-pages'
import { answering, serve } from '../../serve'

const ROWS = 200

const list = answering(LIST_SCORES, async (call) => {
  const { request, query } = call
  const after = query.after === undefined ? null : readPlace(query.after, query.sort)
  const pages = await scoresFor(call)
  const csv = wantsCsv(request)
  if (csv && query.limit === undefined) return csvResponse(everyLine(pages, after))
  const { scores, next } = await pages(query.limit ?? ROWS, after)
  const cursor = next && writePlace(next, query.sort)
  if (!csv) return Response.json({ items: scores.map(scoreObject), next: cursor })
  const response = csvResponse([scoresHeader(), scoreLines(scores)])
  if (cursor !== null) response.headers.set('Link', `<${addressAfter(request.url, cursor)}>; rel="next"`)
  return response
})

async function* everyLine(pages: Pages, from: Parameters<Pages>[1]): AsyncGenerator<string, void, undefined> {
  yield scoresHeader()
  let after = from
  do {
    const { scores, next } = await pages(MOST_ROWS, after)
    yield scoreLines(scores)
    after = next
  } while (after !== null)
}

function addressAfter(address: string, cursor: string): string {
  const { pathname, searchParams } = new URL(address)
  searchParams.set('after', cursor)
  return `${pathname}?${searchParams}`
}

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ GET: list })
