import type { Act } from '@/lib/people/permissions'

/**
 * Which act whatever can be asked of the product needs, written down a second time, beside the code that asks for it.
 * `open` is what whoever comes may ask: the door, and what opens by a key alone. `attempts.test.ts` here holds the actions
 * to it, those beside the browser and the machine interface the rest; whatever is missing here fails them.
 */
export type Rule = Act | 'open'
export type ByRule = Partial<Record<Rule, readonly string[]>>

/** The functions that browsers may call, by the file that exports them. */
const ACTIONS: Record<string, ByRule> = {
  '(door)/actions.ts': {
    open: ['enter', 'signIn', 'startByPress', 'startAsFirstOwner', 'signOut'],
    read: ['chooseOrganisation'],
  },
  '(door)/reset-actions.ts': { open: ['sendReset'] },
  '(label)/invitation/[key]/actions.ts': { open: ['join', 'joinSignedIn'] },
  '(label)/q/[key]/actions.ts': { open: ['reportByLabel'] },
  '(label)/reset/[key]/actions.ts': { open: ['chooseNewPassword'] },
  '(label)/unsubscribe/[key]/actions.ts': { open: ['stopMails'] },
  '(people)/calls/call-actions.ts': {
    plan: ['noteLetter', 'takeLetterBack'],
    'answer-proposals': ['noteOptOut', 'takeOptOutBack'],
  },
  '(people)/customer/actions.ts': { 'erase-customers': ['erase'] },
  '(people)/families/compare/actions.ts': { 'edit-library': ['putAgain'] },
  '(people)/families/learning-actions.ts': { 'edit-library': ['learnNow'] },
  '(people)/families/new/actions.ts': {
    'edit-library': [
      ...['beginFamily', 'beginStarter', 'beginWithExample', 'changeFamily', 'tryDraft', 'stopTrying'],
      ...['dropDraft', 'putInForce'],
    ],
  },
  '(people)/families/new/starter-actions.ts': { 'edit-library': ['keepStarterPoint'] },
  '(people)/families/new/step-actions.ts': {
    'edit-library': [
      ...['keepEngine', 'keepWeakPoint', 'keepSign', 'keepRevision', 'removeRevision', 'keepVariant'],
      ...['removeVariant', 'keepLink', 'removeWeakPoint', 'removeSign', 'removeLink'],
    ],
  },
  '(people)/families/take-in/actions.ts': {
    'edit-library': ['bringFile', 'chooseFamily', 'decide', 'putTakenInForce', 'dropFile'],
  },
  '(people)/fault-finding/unrecorded/actions.ts': { 'enter-records': ['keepVehicle'] },
  '(people)/intake/[id]/actions.ts': {
    'bring-in-records': [
      ...[
        'askForWork',
        'stop',
        'drop',
        'sayKind',
        'openAsWorkbook',
        'mendAll',
        'readRowsAgain',
        'mendByHand',
      ],
    ],
  },
  '(people)/intake/workbook/[id]/actions.ts': {
    'bring-in-records': [
      ...['saveSheet', 'saveWords', 'saveWork', 'answerQuestion', 'undoLast', 'makeFiles', 'dropIt'],
    ],
  },
  '(people)/labels/actions.ts': { 'enter-records': ['printLabels'] },
  '(people)/new-vehicle/actions.ts': { 'enter-records': ['addVehicle'] },
  '(people)/parts/actions.ts': { 'keep-parts': ['keepPart', 'undoPart'], plan: ['keepLevel'] },
  '(people)/plan/actions.ts': {
    plan: [
      ...['makePlan', 'stopPlanning', 'takeProposed', 'leaveProposed', 'moveHere', 'sayOf', 'promiseVisit'],
      ...['finishVisit', 'undoOnThePlan', 'changePlanTerms', 'changeWeekHours', 'bookWork', 'sayAway'],
      'withdraw',
    ],
  },
  '(people)/plan/costs-of-moves.ts': { plan: ['costsOfMoves'] },
  '(people)/reports/actions.ts': { 'enter-records': ['confirmReport', 'setReportAside', 'reopenReport'] },
  '(people)/saved-view-actions.ts': {
    'save-views': ['saveThisView', 'renameSavedView', 'removeSavedView', 'bringBack'],
  },
  '(people)/settings/actions.ts': {
    'edit-terms': ['changeTerms', 'changeLetterTerms'],
    'manage-tokens': ['addToken', 'endToken'],
  },
  '(people)/settings/digest-actions.ts': { read: ['wishDigest'] },
  '(people)/settings/grades-actions.ts': { 'edit-terms': ['changeGrades'] },
  '(people)/settings/people/people-actions.ts': {
    'manage-people': ['invitePerson', 'withdrawInvited', 'giveRole', 'removePerson', 'signPersonOut'],
  },
  '(people)/settings/webhook-actions.ts': { 'manage-webhook': ['changeWebhook', 'renewSecret', 'sendTest'] },
  '(people)/settings/you/you-actions.ts': { read: ['changeName', 'changePassword', 'endSessions'] },
  '(people)/track-record/actions.ts': { plan: ['lookBackNow', 'stopLookingBack'] },
  '(people)/vehicles/[unit]/actions.ts': { 'enter-records': ['enterRecord', 'changeRecordState'] },
  '(people)/vehicles/[unit]/correct-actions.ts': { 'enter-records': ['correctEntry'] },
  '(people)/vehicles/[unit]/facts-actions.ts': { 'enter-records': ['changeFacts'] },
  '(people)/vehicles/[unit]/life-actions.ts': { 'enter-records': ['changeStatus', 'changeOwner'] },
  '(people)/vehicles/[unit]/photograph-actions.ts': { 'enter-records': ['changePhotographState'] },
  '(people)/vehicles/[unit]/proposal-actions.ts': {
    plan: ['proposeJobs', 'acceptOntoPlan'],
    'answer-proposals': ['answerProposal', 'undoAnswer'],
  },
  '(people)/vehicles/[unit]/same/actions.ts': { 'enter-records': ['mergeWith', 'partFrom'] },
  '(people)/vehicles/[unit]/set-aside/cover-actions.ts': { 'enter-records': ['keepTerms', 'takeTermsBack'] },
  '(people)/vehicles/[unit]/stop-actions.ts': {
    'answer-stops': ['tellDriver', 'markParked', 'releaseNotice'],
  },
}

/** The same table as a CSV file and as JSON. */
const twins = (...tables: string[]) => tables.flatMap((table) => [`GET /${table}.csv`, `GET /${table}.json`])

/** Pages by the address that Next makes of their file, route handlers by method and address. */
export const ADDRESSES: ByRule = {
  open: [
    ...['/door', '/q/[key]', '/unsubscribe/[key]', 'GET /unsubscribe/[key]/one-click'],
    ...['POST /unsubscribe/[key]/one-click', '/door/forgot', '/invitation/[key]', '/reset/[key]'],
  ],
  read: [
    ...['/', '/at/[[...unit]]', '/bid', '/calls', '/digest', '/families', '/families/[key]'],
    ...['/families/[key]/interval/[weakPoint]', '/families/compare', '/fault-finding'],
    ...['/fault-finding/unrecorded', '/intake', '/intake/[id]', '/looks', '/looks/round', '/looks/sheet'],
    ...[
      '/money',
      '/parts',
      '/plan',
      '/proposals',
      '/reports',
      '/settings',
      '/settings/you',
      '/stock',
      '/track-record',
    ],
    ...['/vehicles/[unit]', '/vehicles/[unit]/before-sale', '/vehicles/[unit]/job-card'],
    ...['/vehicles/[unit]/letter', '/vehicles/[unit]/look-sheet', '/vehicles/[unit]/said/[repair]'],
    ...['/vehicles/[unit]/set-aside', '/vehicles/[unit]/stock-file', '/vehicles/[unit]/stock-sheet'],
    '/visits',
    ...twins('calls', 'families', 'families/[key]/signs', 'families/[key]/weak-points', 'fault-finding'),
    ...twins('fault-finding/causes', 'intake', 'intake/[id]/files', 'intake/[id]/rejected', 'letters'),
    ...twins('looks', 'money', 'money/policies', 'parts', 'parts/early', 'parts/order', 'plan', 'plan/left'),
    ...twins('proposals', 'reports', 'stock', 'visits', 'watchlist', 'vehicles/[unit]/before-sale'),
    ...twins('vehicles/[unit]/components', 'vehicles/[unit]/records', 'vehicles/[unit]/set-aside'),
    ...['GET /at.json', 'GET /families/[key]/share', 'GET /intake/[id]/refused', 'GET /library/[version]'],
    ...['GET /intake/template/[kind]', 'GET /looks/round.pdf', 'GET /looks/sheet.pdf', 'GET /plan.ics'],
    ...['GET /photographs/[id]', 'GET /track-record.json', 'GET /vehicles/[unit]/job-card.pdf'],
    ...['GET /vehicles/[unit]/letter.pdf', 'GET /vehicles/[unit]/stock-file.pdf'],
    ...['GET /vehicles/[unit]/stock-sheet.pdf', 'GET /visits/job-cards.pdf', 'GET /watchlist-rows'],
  ],
  'edit-library': [
    ...['/families/new', '/families/new/starter', '/families/new/[draft]', '/families/new/[draft]/engine'],
    ...['/families/new/[draft]/signs/[key]', '/families/new/[draft]/starter'],
    ...['/families/new/[draft]/starter/[key]', '/families/new/[draft]/versions/[key]'],
    '/families/new/[draft]/weak-points/[key]',
    '/families/new/[draft]/weak-points/[key]/versions/[version]',
    ...['/families/take-in', '/families/take-in/[taking]', '/families/take-in/[taking]/decide'],
    '/families/take-in/[taking]/preview',
  ],
  'bring-in-records': [
    ...['/intake/[id]/mend', 'POST /intake/upload', '/intake/workbook/[id]', '/intake/workbook/[id]/apply'],
    ...['/intake/workbook/[id]/sheet/[place]', '/intake/workbook/[id]/words/[meaning]'],
    '/intake/workbook/[id]/work',
  ],
  'enter-records': [
    ...['/labels', '/labels/sheet', 'GET /labels/sheet.pdf', '/new-vehicle', 'POST /at-entries'],
    '/vehicles/[unit]/same',
  ],
  'manage-people': ['/settings/people'],
  'erase-customers': ['/customer', 'GET /customer.json'],
  'read-audit': ['/audit', ...twins('audit')],
}

/** The machine interface, by method and address below `/api`; what is not named is no method of its address. */
export const MACHINE: ByRule = {
  open: ['GET /api/openapi.json'],
  read: [
    ...['GET /api/v1/library', 'GET /api/v1/parts', 'GET /api/v1/plan.ics', 'GET /api/v1/scores'],
    ...['GET /api/v1/vehicles', 'GET /api/v1/vehicles/[unit]', 'GET /api/v1/vehicles/[unit]/records'],
  ],
  'enter-records': [
    ...['POST /api/v1/checks', 'POST /api/v1/codes', 'POST /api/v1/readings', 'POST /api/v1/repairs'],
  ],
  'bring-in-records': ['POST /api/v1/changes', 'POST /api/v1/vehicles'],
  'keep-parts': ['PUT /api/v1/parts'],
  'edit-library': ['PUT /api/v1/library'],
}

/** Each name with its rule; a name that stands twice is a mistake in these tables. */
export function rulesIn(byRule: ByRule): Map<string, Rule> {
  const rules = new Map<string, Rule>()
  for (const [rule, names] of Object.entries(byRule) as [Rule, readonly string[]][])
    for (const name of names) {
      if (rules.has(name)) throw new Error(`${name} has two rules`)
      rules.set(name, rule)
    }
  return rules
}

/** The rule of every action, by file and name. */
export const ACTION_RULES = new Map(
  Object.entries(ACTIONS).flatMap(([file, byRule]) =>
    [...rulesIn(byRule)].map(([name, rule]): [string, Rule] => [`${file} ${name}`, rule]),
  ),
)
