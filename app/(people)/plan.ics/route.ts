import { planCalendar } from '../../plan-calendar'
import { requirePerson } from '../../require-person'

/** The visits of the plan in force as a calendar file. */
export async function GET(): Promise<Response> {
  return planCalendar(await requirePerson(), new Date())
}
