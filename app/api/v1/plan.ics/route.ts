import { planCalendar } from '../../../plan-calendar'
import { SHOW_PLAN } from '../../contract'
import { answering, serve } from '../../serve'

const calendar = answering(SHOW_PLAN, ({ database, present, now }) =>
  planCalendar({ database, organisation: present.organisation }, now),
)

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ GET: calendar })
