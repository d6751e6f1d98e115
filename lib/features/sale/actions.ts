'use server'

import { leavingFormSchema, readLeavingForm } from '@/lib/features/order/schema'
import { createSale, recordOrderSale } from '@/lib/features/sale/mutations'
import { counterSaleSchema, readCounterSale } from '@/lib/features/sale/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createSaleAction = workspaceAction(
  { permission: 'sale:write', schema: counterSaleSchema },
  async ({ tx, scope, workspace, input }) =>
    createSale(tx, { scope, workspace }, readCounterSale(input, workspace)),
)

export const sellOrderAction = workspaceAction(
  { permission: 'order:write', schema: leavingFormSchema },
  async ({ tx, scope, workspace, input }) =>
    recordOrderSale(tx, { scope, workspace }, readLeavingForm(input)),
)
