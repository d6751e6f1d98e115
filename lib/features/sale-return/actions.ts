'use server'

import { createSaleReturn, reverseSale } from '@/lib/features/sale-return/mutations'
import { reversalFormSchema, saleReturnFormSchema } from '@/lib/features/sale-return/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createSaleReturnAction = workspaceAction(
  { permission: 'sale:write', schema: saleReturnFormSchema },
  async ({ tx, scope, workspace, input }) => createSaleReturn(tx, { scope, workspace }, input),
)

export const reverseSaleAction = workspaceAction(
  { permission: 'sale:write', schema: reversalFormSchema },
  async ({ tx, scope, workspace, input }) => reverseSale(tx, { scope, workspace }, input),
)
