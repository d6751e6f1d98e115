'use server'

import { archiveTaxRate, createTaxRate } from '@/lib/features/tax-rate/mutations'
import { archiveTaxRateSchema, taxRateSchema } from '@/lib/features/tax-rate/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createTaxRateAction = workspaceAction(
  { permission: 'till:write', schema: taxRateSchema },
  async ({ tx, scope, input }) => ({
    value: await createTaxRate(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const archiveTaxRateAction = workspaceAction(
  { permission: 'till:write', schema: archiveTaxRateSchema },
  async ({ tx, scope, input }) => ({
    value: await archiveTaxRate(tx, scope.workspaceId, input),
    warnings: [],
  }),
)
