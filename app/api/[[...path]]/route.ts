import { Problem } from '../problem'
import { serveOpenly } from '../serve'

/** Every address below /api that is no other: whatever the method, there is nothing here. */
const nothing = () => {
  throw new Problem('not-found', 'There is nothing at this address; /api/openapi.json tells what there is')
}

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serveOpenly(nothing, nothing)
