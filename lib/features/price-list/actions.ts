'use server'

import {
  archivePriceList,
  createPriceList,
  updateAnimalPrice,
  updateProposedList,
  updateStockPrice,
} from '@/lib/features/price-list/mutations'
import {
  animalPriceSchema,
  createPriceListSchema,
  priceListVersionSchema,
  stockPriceSchema,
} from '@/lib/features/price-list/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createPriceListAction = workspaceAction(
  { permission: 'price-list:write', schema: createPriceListSchema },
  async ({ tx, scope, input }) => ({
    value: await createPriceList(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const proposePriceListAction = workspaceAction(
  { permission: 'price-list:write', schema: priceListVersionSchema },
  async ({ tx, scope, input }) => ({
    value: await updateProposedList(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const archivePriceListAction = workspaceAction(
  { permission: 'price-list:write', schema: priceListVersionSchema },
  async ({ tx, scope, input }) => ({
    value: await archivePriceList(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const updateAnimalPriceAction = workspaceAction(
  { permission: 'price-list:write', schema: animalPriceSchema },
  async ({ tx, workspace, input }) => ({
    value: await updateAnimalPrice(tx, workspace, input),
    warnings: [],
  }),
)

export const updateStockPriceAction = workspaceAction(
  { permission: 'price-list:write', schema: stockPriceSchema },
  async ({ tx, workspace, input }) => ({ value: await updateStockPrice(tx, workspace, input), warnings: [] }),
)
