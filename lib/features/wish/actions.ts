'use server'

import { createWish, endWish } from '@/lib/features/wish/mutations'
import { createWishSchema, endWishSchema } from '@/lib/features/wish/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createWishAction = workspaceAction(
  { permission: 'reservation:write', schema: createWishSchema },
  async ({ tx, workspace, input }) => ({ value: await createWish(tx, workspace, input), warnings: [] }),
)

export const endWishAction = workspaceAction(
  { permission: 'reservation:write', schema: endWishSchema },
  async ({ tx, workspace, input }) => ({ value: await endWish(tx, workspace, input), warnings: [] }),
)
