/** Everything that can be wrong with a request: the closed list of problem types, each with its status and title. */
export const PROBLEMS = {
  'bad-address': { status: 400, title: 'The address cannot be read' },
  'no-token': { status: 401, title: 'A valid token is needed' },
  'not-allowed': { status: 403, title: 'The role of this token may not do that' },
  'not-found': { status: 404, title: 'There is no such thing here' },
  'no-such-method': { status: 405, title: 'This address does not answer that method' },
  'in-flight': { status: 409, title: 'A request with this Idempotency-Key is still at work' },
  'keys-in-use': { status: 409, title: 'The library drops keys that have records' },
  'too-large': { status: 413, title: 'More than is taken at once' },
  'media-type': { status: 415, title: 'The body is in a form that is not taken' },
  invalid: { status: 422, title: 'The request says something that cannot be taken' },
  'key-reused': { status: 422, title: 'This Idempotency-Key came with another request' },
  'too-many-requests': { status: 429, title: 'Too many requests' },
  'database-gone': { status: 503, title: 'The database does not answer' },
  'no-room': { status: 507, title: 'The disk is full' },
  fault: { status: 500, title: 'A fault of the product' },
} as const

export type ProblemType = keyof typeof PROBLEMS
export const PROBLEM_TYPES = Object.keys(PROBLEMS) as ProblemType[]

/** The URI of a problem type. */
export const problemAddress = (type: ProblemType): string => `/api/problems/${type}`

/** Ends a request with problem details (RFC 9457). `detail` is one line for a person; `more` goes along as members. */
export class Problem extends Error {
  override name = 'Problem'

  constructor(
    readonly type: ProblemType,
    readonly detail: string,
    readonly more: Record<string, unknown> = {},
    readonly headers: Record<string, string> = {},
  ) {
    super(detail)
  }
}

/** The answer that tells a problem. */
export function problemResponse({ type, detail, more, headers }: Problem): Response {
  const { status, title } = PROBLEMS[type]
  return Response.json(
    { type: problemAddress(type), title, status, detail, ...more },
    { status, headers: { ...headers, 'Content-Type': 'application/problem+json' } },
  )
}
