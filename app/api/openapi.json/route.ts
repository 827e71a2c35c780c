import { openApi } from '../openapi'
import { serveOpenly } from '../serve'

/** The description of the machine interface, for everybody. */
export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serveOpenly(() => Response.json(openApi()))
