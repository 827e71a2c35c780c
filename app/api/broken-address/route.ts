import { Problem } from '../problem'
import { serveOpenly } from '../serve'

/** Where the web server leads every address below /api whose percent-encoding no one can read. */
const broken = () => {
  throw new Problem('bad-address', 'The percent-encoding of the address is broken; encode each name as UTF-8')
}

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serveOpenly(broken, broken)
