import { expect, test } from 'vitest'
import { TABLE_KINDS, TABLES } from '@/lib/intake/tables'

test.each(TABLE_KINDS)('every column of %s says what it means, with examples that can be read', (kind) => {
  for (const [name, column] of Object.entries(TABLES[kind].shape)) {
    const { description = '', examples = [] } = column.meta() ?? {}
    expect(description, name).toMatch(/^\S.*\.$/)
    expect(examples, name).toHaveLength(2)
    for (const example of examples)
      expect(column.safeParse(example).success, `${name}: ${example}`).toBe(true)
    expect(column.meta()?.type, `${name} still says what a machine may write`).toBeDefined()
  }
})
