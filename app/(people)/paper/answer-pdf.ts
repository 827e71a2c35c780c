import { asFileNamed } from './file-name'
import type { Paper } from './paper'
import { papersAsPdf, sheetOf } from './paper-pdf'

type Named = { stem: string; about: string }

/** The answer of a route that gives papers as one file, a page each; kept nowhere, since it tells of a customer. */
export async function answerPdf(papers: Paper[], { stem, about }: Named, locale: string): Promise<Response> {
  return new Response(await papersAsPdf(papers, sheetOf(locale)), {
    headers: {
      'Content-Type': 'application/pdf',
      'Content-Disposition': asFileNamed(stem, about, 'pdf'),
      'Cache-Control': 'private, no-store',
    },
  })
}
