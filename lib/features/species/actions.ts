'use server'

import { requireSpecies } from '@/lib/features/species/data'
import { createSpecies, updateCareProfile, updateColonyRule } from '@/lib/features/species/mutations'
import {
  changeProfileValueSchema,
  colonyRuleSchema,
  createSpeciesSchema,
} from '@/lib/features/species/schema'
import { workspaceAction } from '@/lib/platform/action'

export const createSpeciesAction = workspaceAction(
  { permission: 'species:write', schema: createSpeciesSchema },
  async ({ tx, scope, input }) => ({
    value: await createSpecies(tx, scope.workspaceId, input),
    warnings: [],
  }),
)

export const changeProfileValueAction = workspaceAction(
  { permission: 'species:write', schema: changeProfileValueSchema },
  async ({ tx, scope, input }) => {
    const { speciesId, version, path, value = null, note } = input
    const species = await requireSpecies(tx, scope.workspaceId, speciesId)
    const edits = [{ path, value, note }]
    const number = await updateCareProfile(tx, scope.workspaceId, { species, edits, on: version })
    return { value: { number }, warnings: [] }
  },
)

export const changeColonyRuleAction = workspaceAction(
  { permission: 'species:write', schema: colonyRuleSchema },
  async ({ tx, scope, input }) => {
    const { speciesId, version, allows, note } = input
    const species = await requireSpecies(tx, scope.workspaceId, speciesId)
    const number = await updateColonyRule(tx, scope.workspaceId, { species, allows, note, on: version })
    return { value: { number }, warnings: [] }
  },
)
