import fc from 'fast-check'
import { expect, test } from 'vitest'
import { arrayText } from '@/lib/store/inner/insert-rows'
import { runs } from '../runs'
import { testDatabase } from './test-database'

const { database } = await testDatabase()

const text = fc.oneof(
  fc.string({ unit: 'binary' }).map((each) => each.replaceAll('\0', '')),
  fc.constantFrom('', 'NULL', 'null', '{}', '"', '\\', '\\"', ',', ' a ', '\n', 'ä🎨'),
)

test('the server reads an array that was written here as the list that it was', async () => {
  const lists = fc.record({
    texts: fc.array(fc.option(text), { maxLength: 8 }),
    floats: fc.array(fc.option(fc.double({ noNaN: true }).map((each) => each + 0)), { maxLength: 8 }),
    bools: fc.array(fc.option(fc.boolean()), { maxLength: 8 }),
  })
  await fc.assert(
    fc.asyncProperty(lists, async ({ texts, floats, bools }) => {
      const [read] = (await database.$queryRaw`
        select to_jsonb(${arrayText(texts)}::text[]) as texts,
          ${arrayText(floats)}::double precision[] as floats, ${arrayText(bools)}::boolean[] as bools`) as [
        { texts: unknown; floats: unknown; bools: unknown },
      ]
      expect(read).toEqual({ texts, floats, bools })
    }),
    { numRuns: runs(100) },
  )
})
