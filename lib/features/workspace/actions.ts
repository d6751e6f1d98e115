'use server'

import {
  createWorkspace,
  updateSecondFactorRule,
  updateSlug,
  updateWorkspace,
} from '@/lib/features/workspace/mutations'
import {
  changeSlugSchema,
  createWorkspaceSchema,
  requireSecondFactorSchema,
  updateWorkspaceSchema,
} from '@/lib/features/workspace/schema'
import { openAction, workspaceAction } from '@/lib/platform/action'
import { readSignedIn } from '@/lib/platform/current-session'
import { readRefusal } from '@/lib/platform/database-error'
import { AppError } from '@/lib/platform/errors'
import { getSecondFactor } from '@/lib/platform/second-factor'
import { listOwnWorkspaces } from '@/lib/platform/session'

export const createWorkspaceAction = openAction<typeof createWorkspaceSchema, { slug: string }>(
  createWorkspaceSchema,
  async (input) => {
    const person = await readSignedIn()
    if (!person) return { status: 'signed-out' }
    const { slug } = input
    try {
      await createWorkspace(input, person)
    } catch (error) {
      if (readRefusal(error)?.code !== 'name-taken') throw error
      // Sent a second time because the first answer was lost: it is there, and it is theirs.
      const own = await listOwnWorkspaces(person.personId)
      const isSame = own.some((row) => row.slug === slug && row.name === input.name && row.role === 'owner')
      if (!isSame) return refuseTaken()
    }
    return { status: 'done', value: { slug } }
  },
)

function refuseTaken() {
  const fields = [{ path: 'slug', message: 'This address is already taken.' }]
  return { status: 'refused' as const, code: 'name-taken', message: 'Choose another address.', fields }
}

export const updateWorkspaceAction = workspaceAction(
  { permission: 'workspace:write', schema: updateWorkspaceSchema },
  async ({ tx, scope, workspace, input }) => {
    await updateWorkspace(tx, scope.workspaceId, input)
    return { value: { version: workspace.version + 1 }, warnings: [] }
  },
)

export const changeSlugAction = workspaceAction(
  { permission: 'workspace:write', schema: changeSlugSchema },
  async ({ tx, scope, input }) => {
    await updateSlug(tx, scope.workspaceId, input)
    return { value: { slug: input.slug }, warnings: [] }
  },
)

export const requireSecondFactorAction = workspaceAction(
  { permission: 'person:manage', schema: requireSecondFactorSchema },
  async ({ tx, scope, input }) => {
    const isOwnOn = scope.personId !== null && (await getSecondFactor(scope.personId)).isOn
    if (input.isRequired && !isOwnOn)
      throw new AppError('forbidden', 'Set your own second factor up first, under “Your account”.')
    await updateSecondFactorRule(tx, scope.workspaceId, input.isRequired)
    return { value: null, warnings: [] }
  },
)
