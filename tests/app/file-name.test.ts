/** The name that a paper's file is kept under: whatever a vehicle is called, nothing in it does harm. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { asFileNamed } from '@/app/(people)/paper/file-name'

test('a plain number stands as it is; other letters stay where programs know them', () => {
  expect(asFileNamed('job-card', 'V-004', 'pdf')).toBe(
    `attachment; filename="job-card-V-004.pdf"; filename*=UTF-8''job-card-V-004.pdf`,
  )
  expect(asFileNamed('stock-sheet', 'Müller/1', 'pdf')).toBe(
    `attachment; filename="stock-sheet-Muller-1.pdf"; filename*=UTF-8''stock-sheet-M%C3%BCller-1.pdf`,
  )
  expect(asFileNamed('stock-sheet', '車', 'pdf')).toContain(`filename="stock-sheet-.pdf"`)
})

test('no name leads elsewhere, ends the header or hides the ending', () => {
  expect(asFileNamed('job-card', '../../etc/"\r\nSet-Cookie: a', 'pdf')).not.toMatch(/\.\.|\/|[\r\n]|""/)
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 90 }), (unit) => {
      const header = asFileNamed('job-card', unit, 'pdf')
      expect(header).toMatch(
        /^attachment; filename="job-card[\w.-]*\.pdf"; filename\*=UTF-8''job-card[\w.%~-]*\.pdf$/,
      )
      expect(decodeURIComponent(header)).not.toMatch(/[/\\:\p{Cc}\p{Cf}]/u)
      new Headers({ 'Content-Disposition': header })
    }),
  )
})
