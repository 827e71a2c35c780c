/** Cases of a property test: as many as stated, twenty times as many in `npm run test:long`. */
export const runs = (count: number): number => (process.env.LONG_TESTS ? 20 * count : count)

/** Cases of what is thrown at the machine interface: half of a hundred thousand for each form in `npm run test:long`. */
export const fuzzed = (count: number): number => (process.env.LONG_TESTS ? 50_000 : count)
