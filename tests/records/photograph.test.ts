import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { LARGEST_PHOTOGRAPH, photographIn } from '@/lib/records/photograph'
import { runs } from '../runs'
import { aJpeg } from './a-jpeg'

describe('bytes are', () => {
  const text = (words: string) => new TextEncoder().encode(words)

  it('a photograph by what they hold, with its size', () => {
    expect(photographIn(aJpeg(1600, 1200))).toEqual({ ok: true, width: 1600, height: 1200 })
    // Somewhere inside a larger buffer, too.
    const within = new Uint8Array([9, 9, ...aJpeg(3, 2)]).subarray(2)
    expect(photographIn(within)).toEqual({ ok: true, width: 3, height: 2 })
  })

  it('none where they are something else, whatever they begin with', () => {
    const png = new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
    const page = new Uint8Array([0xff, 0xd8, 0xff, ...text('<script>alert(1)</script>')])
    for (const bytes of [
      new Uint8Array(),
      png,
      page,
      text('<svg/>'),
      aJpeg(8, 8).subarray(0, 12),
      aJpeg(0, 8),
    ])
      expect(photographIn(bytes)).toEqual({ ok: false, reason: 'no-photograph' })
  })

  it('too large by their number or their size in pixels', () => {
    expect(photographIn(new Uint8Array(LARGEST_PHOTOGRAPH + 1))).toEqual({ ok: false, reason: 'too-large' })
    expect(photographIn(aJpeg(1601, 10))).toEqual({ ok: false, reason: 'too-large' })
  })
})

test('any bytes are read to an end, without a fault', () => {
  const begun = fc
    .uint8Array({ maxLength: 60 })
    .map((rest) => new Uint8Array([0xff, 0xd8, ...rest, 0xff, 0xd9]))
  fc.assert(
    fc.property(fc.oneof(begun, fc.uint8Array({ maxLength: 60 })), (bytes) => {
      const read = photographIn(bytes)
      expect(read.ok ? read.width * read.height : 1).toBeGreaterThan(0)
    }),
    { numRuns: runs(500) },
  )
})
