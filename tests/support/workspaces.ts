import { randomUUID } from 'node:crypto'
import type { Role } from '@/lib/domain/role/permissions'
import { createWorkspace } from '@/lib/features/workspace/mutations'
import { authPool } from '@/lib/platform/auth-database'
import type { Tx } from '@/lib/platform/db'
import { createPerson } from '@/lib/platform/person'
import { createSecret, hashSecret } from '@/lib/platform/secret'
import { inWorkspace, mintScope, type Scope, type Workspace } from '@/lib/platform/workspace'

/** A person with a sign-in that no test uses: the hash fits no password. */
export async function makePerson(name: string): Promise<{ personId: string; name: string; email: string }> {
  const email = `${name.toLowerCase().replaceAll(' ', '.')}.${randomUUID().slice(0, 8)}@example.test`
  const personId = await createPerson({ name, email, passwordHash: 'none', isConfirmed: true })
  return { personId, name, email }
}

/** A breeder's workspace with its owner and the default care profiles. */
export async function makeWorkspace(name: string): Promise<Scope & { slug: string }> {
  const slug = `${name.toLowerCase().replaceAll(' ', '-')}-${randomUUID().slice(0, 8)}`
  const place = { timeZone: 'Europe/Berlin', country: 'DE', currency: 'EUR', language: 'en' }
  const scope = await createWorkspace({ name, slug, ...place }, await makePerson(`Owner of ${name}`))
  return { ...scope, slug }
}

/** Someone else who works there. */
export async function makeMember(owner: Scope, role: Role): Promise<Scope> {
  const person = await makePerson(`A ${role}`)
  await inWorkspace(owner, (tx) =>
    tx.membership.create({
      data: {
        workspaceId: owner.workspaceId,
        personId: person.personId,
        role,
        displayName: person.name,
        email: person.email,
      },
    }),
  )
  return mintScope({ workspaceId: owner.workspaceId, personId: person.personId, role })
}

/** Work in one transaction of the workspace, as its pages and actions do it. */
export function within<T>(scope: Scope, work: (tx: Tx, workspace: Workspace) => Promise<T>): Promise<T> {
  return inWorkspace(scope, work)
}

/** A bearer token of a role, made by the owner. */
export async function makeToken(owner: Scope, role: Role): Promise<string> {
  const token = createSecret()
  await inWorkspace(owner, (tx) =>
    tx.apiToken.create({
      data: {
        workspaceId: owner.workspaceId,
        name: `test ${role}`,
        role,
        tokenHash: hashSecret(token),
        personId: String(owner.personId),
        expiresAt: new Date(Date.now() + 86_400_000),
      },
    }),
  )
  return token
}

type Handler = (
  request: Request,
  context: { params: Promise<Record<string, string> | undefined> },
) => Promise<Response>
type Call = {
  token?: string
  method?: string
  query?: string
  body?: unknown
  params?: Record<string, string>
  headers?: Record<string, string>
}
// biome-ignore lint/suspicious/noExplicitAny: an answer is read by the test that knows its shape
export type Answer = { status: number; headers: Headers; body: any }

/** Calls a route of the JSON API as a till would, without a server in between; like it, without empty parameters. */
export async function callApi(handler: Handler, call: Call = {}): Promise<Answer> {
  const { token, body, params, query = '', headers = {} } = call
  const request = new Request(`http://127.0.0.1/api/v1/x${query}`, {
    method: call.method ?? (body === undefined ? 'GET' : 'POST'),
    headers: { ...(token ? { authorization: `Bearer ${token}` } : {}), ...headers },
    ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
  })
  const response = await handler(request, { params: Promise.resolve(params) })
  return { status: response.status, headers: response.headers, body: await response.json() }
}

/** Asks the database past every gate, as only a test may. */
export async function countAsSignIn(sql: string, values: unknown[]): Promise<number> {
  return Number((await authPool().query<{ count: string }>(sql, values)).rows[0]?.count)
}
