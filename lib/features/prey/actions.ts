'use server'

import {
  createPreyLine,
  createPreyOrder,
  recordPreyCount,
  recordPreyDeparture,
  updateKept,
  updateOrderDays,
  updatePreyFigure,
  updatePreyOrder,
} from '@/lib/features/prey/mutations'
import {
  changeFigureSchema,
  createPreyLineSchema,
  newPreyCountSchema,
  newPreyDepartureSchema,
  newPreyOrderSchema,
  updateKeptSchema,
  updateOrderDaysSchema,
  updatePreyOrderSchema,
} from '@/lib/features/prey/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createPreyLineAction = workspaceAction(
  { permission: 'live-food:write', schema: createPreyLineSchema },
  async ({ tx, scope, input }) => ({
    value: await createPreyLine(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const updatePreyFigureAction = workspaceAction(
  { permission: 'live-food:write', schema: changeFigureSchema },
  async ({ tx, scope, input }) => ({
    value: await updatePreyFigure(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const updateOrderDaysAction = workspaceAction(
  { permission: 'live-food:write', schema: updateOrderDaysSchema },
  async ({ tx, scope, input }) => ({
    value: await updateOrderDays(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const updateKeptAction = workspaceAction(
  { permission: 'live-food:write', schema: updateKeptSchema },
  async ({ tx, scope, input }) => ({ value: await updateKept(tx, scope.workspaceId, input), warnings: [] }),
)

export const createPreyOrderAction = workspaceAction(
  { permission: 'live-food:write', schema: newPreyOrderSchema },
  async ({ tx, input, ...actor }) => createPreyOrder(tx, actor, input),
)

export const updatePreyOrderAction = workspaceAction(
  { permission: 'live-food:write', schema: updatePreyOrderSchema },
  async ({ tx, workspace, input }) => ({ value: await updatePreyOrder(tx, workspace, input), warnings: [] }),
)

export const recordPreyCountAction = workspaceAction(
  { permission: 'live-food:write', schema: newPreyCountSchema },
  async ({ tx, input, ...actor }) => ({ value: await recordPreyCount(tx, actor, input), warnings: [] }),
)

export const recordPreyDepartureAction = workspaceAction(
  { permission: 'live-food:write', schema: newPreyDepartureSchema },
  async ({ tx, workspace, input }) => ({
    value: await recordPreyDeparture(tx, workspace, input),
    warnings: [],
  }),
)
