/** Cases of a property test: as many as stated, twenty times as many in `npm run test:long`. */
export const runs = (count: number): number => (process.env.LONG_TESTS ? 20 * count : count)
