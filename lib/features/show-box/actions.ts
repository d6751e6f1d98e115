'use server'

import {
  createBoxPart,
  createShowBox,
  endBoxedAnimal,
  printBoxPapers,
  recordBoxedAnimals,
  recordBoxHome,
} from '@/lib/features/show-box/mutations'
import {
  boxMoreSchema,
  boxPapersSchema,
  newBoxPartSchema,
  newShowBoxFormSchema,
  settleBoxSchema,
  unboxSchema,
} from '@/lib/features/show-box/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createShowBoxAction = workspaceAction(
  { permission: 'sale:write', schema: newShowBoxFormSchema },
  async ({ tx, scope, workspace, input }) => createShowBox(tx, { scope, workspace }, input),
)

export const endBoxedAnimalAction = workspaceAction(
  { permission: 'sale:write', schema: unboxSchema },
  async ({ tx, workspace, input }) => ({ value: await endBoxedAnimal(tx, workspace, input), warnings: [] }),
)

export const boxMoreAction = workspaceAction(
  { permission: 'sale:write', schema: boxMoreSchema },
  async ({ tx, scope, workspace, input }) => recordBoxedAnimals(tx, { scope, workspace }, input),
)

export const createBoxPartAction = workspaceAction(
  { permission: 'sale:write', schema: newBoxPartSchema },
  async ({ tx, workspace, input }) => ({ value: await createBoxPart(tx, workspace, input), warnings: [] }),
)

export const settleBoxAction = workspaceAction(
  { permission: 'sale:write', schema: settleBoxSchema },
  async ({ tx, workspace, input }) => ({ value: await recordBoxHome(tx, workspace, input), warnings: [] }),
)

export const printBoxPapersAction = workspaceAction(
  { permission: 'care-sheet:print', schema: boxPapersSchema },
  async ({ tx, scope, workspace, input }) => ({
    value: await printBoxPapers(tx, { scope, workspace }, input),
    warnings: [],
  }),
)
