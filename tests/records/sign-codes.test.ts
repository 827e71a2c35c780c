import { expect, test } from 'vitest'
import { signsForCode } from '@/lib/records/sign-codes'
import { codeAtPosition } from '@/lib/records/trouble-codes'
import { exampleLibrary } from './example-library'

const family = (codes: string[], positions: number) => {
  const [sign] = exampleLibrary().families[0]?.signs ?? []
  if (!sign) throw new Error('the example has a sign')
  return { signs: [{ ...sign, codes, positions }] }
}

test('a code with # is the sign at the position that it counts to', () => {
  const sign = signsForCode(family(['P030#'], 12))
  expect(sign('P0303')).toEqual({ sign: 'misfire', position: 3 })
  expect(sign('P0310')).toEqual({ sign: 'misfire', position: 10 })
  expect(sign('P0312')).toEqual({ sign: 'misfire', position: 12 })
  expect(sign('P0300')).toBeNull()
  expect(sign('P0313')).toBeNull()
})

test('a code without # is the sign at no stated position', () => {
  const sign = signsForCode(family(['P0300', '0651:05'], 1))
  expect(sign('P0300')).toEqual({ sign: 'misfire', position: null })
  expect(sign('651:5')).toEqual({ sign: 'misfire', position: null })
})

test('SPN pairs count their positions too', () => {
  const sign = signsForCode(family(['65#:5'], 6))
  expect(sign('653:5')).toEqual({ sign: 'misfire', position: 3 })
  expect(sign('657:5')).toBeNull()
})

test('a position that does not fit into the digits has no code', () => {
  expect(codeAtPosition('P0AA#', 9)).toBe('P0AA9')
  expect(codeAtPosition('P0AA#', 10)).toBeNull()
  expect(codeAtPosition('P0301', 1)).toBeNull()
})
