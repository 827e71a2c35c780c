import { asFileNamed } from './file-name'
import type { Paper } from './paper'
import { papersAsPdf, sheetOf } from './paper-pdf'

type Named = { stem: string; about: string }

/** The answer of a route that gives papers as one file, a page each. */
export async function answerPdf(papers: Paper[], named: Named, locale: string): Promise<Response> {
  return pdfAnswer(await papersAsPdf(papers, sheetOf(locale)), named)
}

/** The answer that is a PDF; kept nowhere, since it tells of a customer, or carries a secret. */
export function pdfAnswer(pdf: Uint8Array<ArrayBuffer>, { stem, about }: Named): Response {
  return new Response(pdf, {
    headers: {
      'Content-Type': 'application/pdf',
      'Content-Disposition': asFileNamed(stem, about, 'pdf'),
      'Cache-Control': 'private, no-store',
    },
  })
}
