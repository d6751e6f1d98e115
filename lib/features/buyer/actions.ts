'use server'

import { createBuyer, endBuyer, updateBuyer } from '@/lib/features/buyer/mutations'
import { buyerSchema, buyerVersionSchema, updateBuyerSchema } from '@/lib/features/buyer/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createBuyerAction = workspaceAction(
  { permission: 'buyer:write', schema: buyerSchema },
  async ({ tx, workspace, input }) => ({ value: await createBuyer(tx, workspace, input), warnings: [] }),
)

export const updateBuyerAction = workspaceAction(
  { permission: 'buyer:write', schema: updateBuyerSchema },
  async ({ tx, workspace, input }) => ({ value: await updateBuyer(tx, workspace, input), warnings: [] }),
)

export const eraseBuyerAction = workspaceAction(
  { permission: 'buyer:write', schema: buyerVersionSchema },
  async ({ tx, workspace, input }) => ({ value: await endBuyer(tx, workspace, input), warnings: [] }),
)
