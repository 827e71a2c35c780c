import { proposalsTwin } from '../proposals/proposals-told'
import { csvOf } from '../twins/answer-twin'

export const GET = csvOf(proposalsTwin)
