/**
 * A short run tries the same cases of a property each time, so that a commit which passed passes again; `npm run test:long`
 * draws others, twenty times as many, and says the seed of those that fail.
 */
import fc from 'fast-check'

const SEED = 20_261_130

if (!process.env.LONG_TESTS) fc.configureGlobal({ seed: SEED })
