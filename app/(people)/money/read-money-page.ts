import type { PointPolicies } from '@/lib/decisions/fleet-money'
import type { Expected } from '@/lib/decisions/fleet-quarter'
import type { MoneyReport } from '@/lib/jobs/freshen-money'
import type { WeakPoint } from '@/lib/records/library'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readMoneyReport } from '@/lib/store/read/money-report'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { MoneyAsked } from './money-asked'

/** A line of the quarter: a weak point of an engine, or a site. */
export type QuarterLine = Expected & {
  key: string
  name: string
  /** The engine, or nothing. */
  beside: string
  vehicles: number
  point: { family: string; weakPoint: string } | null
}

export type MoneyPage = {
  terms: Terms
  /** Null before it was reckoned for the first time. */
  report: MoneyReport | null
  hasLibrary: boolean
  points: QuarterLine[]
  sites: QuarterLine[]
  withoutPrice: QuarterLine[]
  /** Whose policies are shown; null where there is no weak point. */
  chosen: (PointPolicies & { name: string; engine: string; described: WeakPoint | null }) | null
}

/** What the background has reckoned last, with names and in the order that is asked. */
export async function readMoneyPage(
  database: Database,
  organisation: OrganisationId,
  asked: MoneyAsked,
): Promise<MoneyPage> {
  const { terms, kept, known } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    kept: await readMoneyReport<MoneyReport>(scope),
    known: await readKnownLibrary(scope),
  }))
  const report = kept?.content ?? null
  const familyOf = (key: string) => known?.library.families.find((family) => family.key === key)
  const pointOf = (family: string, key: string) =>
    familyOf(family)?.weakPoints.find((point) => point.key === key) ?? null
  const points = (report?.quarter.points ?? []).map(({ family, weakPoint, ...line }) => ({
    ...line,
    key: `${family} ${weakPoint}`,
    name: pointOf(family, weakPoint)?.component ?? weakPoint,
    beside: familyOf(family)?.name ?? family,
    point: { family, weakPoint },
  }))
  const sites = (report?.quarter.sites ?? []).map(({ site, ...line }) => ({
    ...line,
    ...{ key: site ?? '', name: site ?? 'No site stated', beside: '', point: null },
  }))
  const dearest = inOrder(points, { column: 'money', descending: true })[0]?.point ?? null
  const of = asked.point ?? dearest
  const policies = report?.policies.find(
    ({ family, weakPoint }) => family === of?.family && weakPoint === of.weakPoint,
  )
  return {
    ...{ terms, report, hasLibrary: known !== null, points: inOrder(points, asked) },
    sites: inOrder(sites, asked),
    withoutPrice: points.filter(({ money }) => money === null),
    chosen: policies
      ? {
          ...policies,
          name: pointOf(policies.family, policies.weakPoint)?.component ?? policies.weakPoint,
          engine: familyOf(policies.family)?.name ?? policies.family,
          described: pointOf(policies.family, policies.weakPoint),
        }
      : null,
  }
}

/** What has no price comes last both ways. */
function inOrder(
  lines: readonly QuarterLine[],
  { column, descending }: Pick<MoneyAsked, 'column' | 'descending'>,
): QuarterLine[] {
  const way = descending ? -1 : 1
  if (column === 'name') return lines.toSorted((a, b) => way * a.name.localeCompare(b.name))
  if (column === 'failures') return lines.toSorted((a, b) => way * (a.failures.mean - b.failures.mean))
  return lines.toSorted((a, b) => {
    if (a.money === null || b.money === null) return Number(a.money === null) - Number(b.money === null)
    return way * (a.money.mean - b.money.mean)
  })
}
