import type { Removal } from './removal'

const take = (
  guard: string,
  tests: string[],
  [path, find, put]: [path: string, find: string, put: string],
): Removal => ({
  guard,
  tests,
  edits: [{ path, find, put }],
})

const TRAPS = ['tests/isolation/traps.test.ts']
const SESSIONS = ['tests/isolation/sessions.test.ts']
const CALLS = ['tests/isolation/conditions.test.ts']
const MATRIX = ['tests/isolation/matrix.test.ts']

/** Guards in the code that a test notices without a server. */
export const SOURCE_GUARDS: Removal[] = [
  take(
    'the fence around a transaction',
    ['tests/isolation/fence.test.ts'],
    ['lib/platform/db.ts', 'fenceAdapter(await open())', 'open()'],
  ),
  take(
    'the second try of what the database has taken back',
    ['tests/faults/commits.test.ts'],
    ['lib/platform/db.ts', 'if (attempt >= 5 || !isRetryable(error)) throw error', 'if (error) throw error'],
  ),
  take('the zone of the connections', TRAPS, ['lib/platform/db.ts', `'TimeZone=UTC',`, '']),
  take('the zone of the sign-in', TRAPS, ['lib/platform/auth-database.ts', '-c TimeZone=UTC ', '']),
  take('the time limit of a statement', TRAPS, ['lib/platform/db.ts', `'statement_timeout=20000',`, '']),
  take('the time limit of a transaction', TRAPS, ['lib/platform/db.ts', `'transaction_timeout=60000',`, '']),
  take('the listener of the sign-in’s pool', TRAPS, [
    'lib/platform/auth-database.ts',
    `pool.on('error'`,
    `pool.on('nothing'`,
  ]),
  take('the end of a session', SESSIONS, ['lib/platform/session.ts', 's.ended_at is null and ', '']),
  take('the thirty days of a session', SESSIONS, [
    'lib/platform/session.ts',
    's.expires_at > now() and ',
    '',
  ]),
  take('the idle week of a session', SESSIONS, [
    'lib/platform/session.ts',
    ` and s.last_seen_at > now() - interval '7 days'`,
    '',
  ]),
  take('the end of a membership', SESSIONS, [
    'lib/platform/session.ts',
    'on m.workspace_id = a.workspace_id and m.person_id = s.person_id and m.ended_at is null',
    'on m.workspace_id = a.workspace_id and m.person_id = s.person_id',
  ]),
  take('whose membership a look-up finds', SESSIONS, [
    'lib/platform/session.ts',
    'on m.workspace_id = a.workspace_id and m.person_id = s.person_id and m.ended_at is null',
    'on m.workspace_id = a.workspace_id and m.ended_at is null',
  ]),
  take('the revocation of a token', SESSIONS, ['lib/platform/api/token.ts', ' and t.revoked_at is null', '']),
  take('the end of a token', SESSIONS, ['lib/platform/api/token.ts', ' and t.expires_at > now()', '']),
  take('the membership behind a token', SESSIONS, [
    'lib/platform/api/token.ts',
    ' and m.ended_at is null',
    '',
  ]),
  take(
    'the permission of an API call',
    ['tests/features/zone.test.ts', 'tests/features/sale.test.ts'],
    ['lib/platform/api/route.ts', '!isAllowed(scope.role, operation.permission)', 'false'],
  ),
  take(
    'the judgement of a foreign Origin',
    ['tests/features/screen/web-policy.test.ts'],
    ['lib/platform/web-policy.ts', 'if (asked.origin === null) return false', 'return false'],
  ),
  take(
    'the revocation of a public page',
    ['tests/isolation/public-page.test.ts'],
    ['lib/platform/public-link.ts', 'and l.revoked_at is null', ''],
  ),
  take('the workspace of a species', CALLS, [
    'lib/features/species/data.ts',
    'where: { workspaceId, ...(UUID',
    'where: { ...(UUID',
  ]),
  take('the workspace of public pages', CALLS, [
    'lib/features/public-link/data.ts',
    'where: { workspaceId, [column]: { in: [...ids] }, revokedAt: null }',
    'where: { [column]: { in: [...ids] }, revokedAt: null }',
  ]),
  take('the workspace of animals', CALLS, [
    'lib/features/individual/data.ts',
    `from individual i where i.workspace_id = \${workspaceId}::uuid \${where}`,
    `from individual i where true \${where}`,
  ]),
  take('the workspace of receipt numbers', CALLS, [
    'lib/features/sale/data.ts',
    'where: { workspaceId, individualId: { in: [...individualIds] }, returned: 0 }',
    'where: { individualId: { in: [...individualIds] }, returned: 0 }',
  ]),
  take('the workspace of zones', CALLS, [
    'lib/features/zone/data.ts',
    `where z.workspace_id = \${workspaceId}::uuid \${isOpen}`,
    `where \${workspaceId}::uuid is not null \${isOpen}`,
  ]),
  take(
    'the refusals at the door',
    ['tests/ops/door.test.ts'],
    ['lib/ops/web/door-thread.mjs', 'guardAgainstOverload(forward, { hasProxy })', 'forward'],
  ),
  take(
    'the address of who asks',
    ['tests/ops/door.test.ts'],
    [
      'lib/ops/web/forward.mjs',
      `hasProxy ? headers['x-forwarded-for'] : undefined`,
      `headers['x-forwarded-for']`,
    ],
  ),
  take(
    'the wrapper of an action',
    ['tests/architecture/source-rules.test.ts', 'tests/architecture/wrapped-actions.test.ts'],
    [
      'lib/features/zone/actions.ts',
      'export const createZoneAction = workspaceAction(',
      'export const createZoneAction = ((_gate: unknown, body: unknown) => body)(',
    ],
  ),
]

/** Guards that stand in front of pages and actions: noticed at the built service alone. */
export const BUILT_GUARDS: Removal[] = [
  take('the permission of an action', MATRIX, [
    'lib/platform/action.ts',
    '!isAllowed(read.role, permission)',
    'false',
  ]),
  take('the membership of an action', MATRIX, [
    'lib/platform/action.ts',
    '!read.workspaceId || !read.role',
    '!read.workspaceId && !read.role && false',
  ]),
  take('the permission of a page', MATRIX, [
    'lib/platform/workspace.ts',
    'if (!isAllowed(read.role, permission)) forbidden()',
    '',
  ]),
  take('the membership behind every look-up', MATRIX, [
    'lib/platform/session.ts',
    'on m.workspace_id = a.workspace_id and m.person_id = s.person_id and m.ended_at is null',
    'on m.workspace_id = a.workspace_id',
  ]),
  take('the permission to fetch a run onto a device', MATRIX, [
    'lib/features/bench/loaders.ts',
    `if (!isAllowed(scope.role, 'clutch:write'))`,
    'if (!scope.role)',
  ]),
  take('the refusal of foreign pages', MATRIX, ['proxy.ts', 'isForeign(asked)', 'false']),
].map((removal) => ({ ...removal, isBuilt: true }))
