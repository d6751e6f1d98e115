'use server'

import { createOrder, createSplitOrder, endOrder, updateChosenAnimals } from '@/lib/features/order/mutations'
import {
  cancelFormSchema,
  chooseAnimalsFormSchema,
  orderFormSchema,
  readOrderForm,
  splitFormSchema,
} from '@/lib/features/order/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createOrderAction = workspaceAction(
  { permission: 'order:write', schema: orderFormSchema },
  async ({ tx, scope, workspace, input }) =>
    createOrder(tx, { scope, workspace }, readOrderForm(input, workspace)),
)

export const chooseAnimalsAction = workspaceAction(
  { permission: 'order:write', schema: chooseAnimalsFormSchema },
  async ({ tx, workspace, input }) => updateChosenAnimals(tx, workspace, input),
)

export const splitOrderAction = workspaceAction(
  { permission: 'order:write', schema: splitFormSchema },
  async ({ tx, scope, workspace, input }) => createSplitOrder(tx, { scope, workspace }, input),
)

export const cancelOrderAction = workspaceAction(
  { permission: 'order:write', schema: cancelFormSchema },
  async ({ tx, workspace, input }) => endOrder(tx, workspace, input),
)
