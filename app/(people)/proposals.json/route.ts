import { proposalsTwin } from '../proposals/proposals-told'
import { jsonOf } from '../twins/answer-twin'

export const GET = jsonOf(proposalsTwin)
