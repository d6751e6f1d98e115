'use server'

import { leavingFormSchema } from '@/lib/features/order/schema'
import { createSale, recordOrderSale, reverseSale } from '@/lib/features/sale/mutations'
import { counterSaleSchema, readCounterSale, reversalFormSchema } from '@/lib/features/sale/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createSaleAction = workspaceAction(
  { permission: 'sale:write', schema: counterSaleSchema },
  async ({ tx, scope, workspace, input }) =>
    createSale(tx, { scope, workspace }, readCounterSale(input, workspace)),
)

export const reverseSaleAction = workspaceAction(
  { permission: 'sale:write', schema: reversalFormSchema },
  async ({ tx, scope, workspace, input }) => reverseSale(tx, { scope, workspace }, input),
)

export const sellOrderAction = workspaceAction(
  { permission: 'order:write', schema: leavingFormSchema },
  async ({ tx, scope, workspace, input }) => recordOrderSale(tx, { scope, workspace }, input),
)
