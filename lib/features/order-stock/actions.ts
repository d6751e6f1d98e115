'use server'

import { updateOrderStock } from '@/lib/features/order-stock/mutations'
import {
  addStockFormSchema,
  readAddStockForm,
  removeStockFormSchema,
} from '@/lib/features/order-stock/schema'
import { workspaceAction } from '@/lib/platform/action'

export const addOrderStockAction = workspaceAction(
  { permission: 'order:write', schema: addStockFormSchema },
  async ({ tx, workspace, input }) => updateOrderStock(tx, workspace, readAddStockForm(input, workspace)),
)

export const removeOrderStockAction = workspaceAction(
  { permission: 'order:write', schema: removeStockFormSchema },
  async ({ tx, workspace, input: { number, ...versioned } }) =>
    updateOrderStock(tx, workspace, { ...versioned, add: [], remove: [number] }),
)
