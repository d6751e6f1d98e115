import { unstable_rethrow } from 'next/navigation'
import { z } from 'zod'
import { isAllowed, type Permission } from '@/lib/domain/role/permissions'
import type { ActionCall, ActionResult } from '@/lib/platform/action-result'
import { readMembership } from '@/lib/platform/current-session'
import type { Tx } from '@/lib/platform/db'
import { AppError, type FieldError } from '@/lib/platform/errors'
import { readFailure } from '@/lib/platform/failure'
import { readInput } from '@/lib/platform/input'
import { runOnce } from '@/lib/platform/operation'
import type { Warned } from '@/lib/platform/warned'
import { mintScope, type Scope, type Workspace } from '@/lib/platform/workspace'

export type ActionContext<S extends z.ZodType> = {
  tx: Tx
  scope: Scope
  workspace: Workspace
  input: z.output<S>
}
type Definition<S extends z.ZodType, T> = {
  permission: Permission
  schema: S
  /** What of the value may be stored for a second sending of the call; everything, where this is not said. */
  keep?: (value: T) => T
}
type Body<S extends z.ZodType, T> = (context: ActionContext<S>) => Promise<Warned<T>>

const callSchema = z.strictObject({
  workspace: z.string().max(80),
  operationId: z.uuid(),
  input: z.unknown(),
})

const built = new WeakSet<object>()

/** Whether a function was built by one of the wrappers below; the architecture tests ask it of every action. */
export function isWrappedAction(candidate: object): boolean {
  return built.has(candidate)
}

/**
 * The one way to write: session, workspace, permission and parsing happen before the body can run, and the body runs
 * in one transaction under the call's operation id. Answers a signed-out caller instead of redirecting, so that the
 * form keeps what was typed.
 */
export function workspaceAction<S extends z.ZodType, T>(definition: Definition<S, T>, body: Body<S, T>) {
  const action = async (call: ActionCall): Promise<ActionResult<T>> => {
    try {
      const { workspace: slug, operationId, input } = callSchema.parse(call)
      const read = await readMembership(slug)
      if (!read) return { status: 'signed-out' }
      const scope = admit(read, definition.permission)
      const sent = readInput(definition.schema, input)
      if (sent.status === 'invalid') return refuse(invalid(sent.fields))
      const { keep } = definition
      const request = {
        key: operationId,
        content: input ?? null,
        ...(keep ? { keep: ({ value, warnings }: Warned<T>) => ({ value: keep(value), warnings }) } : {}),
      }
      const { value } = await runOnce(scope, request, (tx, workspace) =>
        body({ tx, scope, workspace, input: sent.data }),
      )
      return { status: 'done', ...value }
    } catch (error) {
      unstable_rethrow(error)
      const failure = readFailure(error, 'action')
      return 'refusal' in failure
        ? refuse(failure.refusal)
        : { status: 'failed', reference: failure.reference }
    }
  }
  built.add(action)
  return action
}

/** For the few writes that stand outside any workspace: signing up, making one, taking an invitation. */
export function openAction<S extends z.ZodType, T>(
  schema: S,
  body: (input: z.output<S>) => Promise<ActionResult<T>>,
) {
  const action = async (call: ActionCall): Promise<ActionResult<T>> => {
    try {
      const sent = readInput(schema, callSchema.parse(call).input)
      return sent.status === 'ok' ? await body(sent.data) : refuse(invalid(sent.fields))
    } catch (error) {
      unstable_rethrow(error)
      const failure = readFailure(error, 'action')
      return 'refusal' in failure
        ? refuse(failure.refusal)
        : { status: 'failed', reference: failure.reference }
    }
  }
  built.add(action)
  return action
}

function admit(read: NonNullable<Awaited<ReturnType<typeof readMembership>>>, permission: Permission): Scope {
  if (!read.workspaceId || !read.role) throw new AppError('not-found', 'There is no such workspace here.')
  if (read.lacksSecondFactor)
    throw new AppError(
      'forbidden',
      'This workspace asks for a second factor at sign-in. Set yours up under “Your account”.',
    )
  if (!isAllowed(read.role, permission))
    throw new AppError('forbidden', 'Your role in this workspace does not include this.')
  return mintScope({ workspaceId: read.workspaceId, personId: read.personId, role: read.role })
}

function invalid(fields: FieldError[]): AppError {
  return new AppError('invalid', 'Some entries need another look.', { fields })
}

function refuse({ code, message, fields, present }: AppError): ActionResult<never> {
  return { status: 'refused', code, message, fields, present }
}
