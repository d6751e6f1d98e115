'use server'

import { createOrderPayment, reverseOrderPayment } from '@/lib/features/order-payment/mutations'
import {
  paymentFormSchema,
  paymentReversalFormSchema,
  readPaymentForm,
  readReversalForm,
} from '@/lib/features/order-payment/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createOrderPaymentAction = workspaceAction(
  { permission: 'order:write', schema: paymentFormSchema },
  async ({ tx, scope, workspace, input }) =>
    createOrderPayment(tx, { scope, workspace }, readPaymentForm(input, workspace)),
)

export const reverseOrderPaymentAction = workspaceAction(
  { permission: 'order:write', schema: paymentReversalFormSchema },
  async ({ tx, scope, workspace, input }) =>
    reverseOrderPayment(tx, { scope, workspace }, readReversalForm(input, workspace)),
)
