import { z } from 'zod'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { listProfileValues } from '@/lib/domain/care-profile/value-list'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { refuseUnknown } from '@/lib/platform/errors'

export const createSpeciesSchema = z.strictObject({
  scientificName: z
    .string()
    .trim()
    .min(3, 'Give its scientific name.')
    .max(80, 'At most 80 letters.')
    .regex(/^\p{L}/u, 'Begin with a letter.'),
  commonName: z.string().trim().max(80, 'At most 80 letters.').optional(),
  kind: z.enum(['mantis', 'other']),
  /** the species whose care profile is taken over to begin with */
  likeId: z.uuid().optional(),
})
export type CreateSpecies = z.output<typeof createSpeciesSchema>

const value = z.strictObject({
  path: z.string().max(120),
  value: z.number('Enter a number.').nullable(),
  note: z.string().trim().max(300, 'At most 300 letters.').optional(),
})

export const updateCareProfileSchema = z.strictObject({
  values: z.array(value).min(1, 'Change at least one value.').max(150),
})
export type CareProfileEdit = z.output<typeof value>

export const changeProfileValueSchema = z.strictObject({
  speciesId: z.uuid(),
  /** the number of the profile version that was on screen */
  version: z.number().int().positive(),
  path: z.string().max(120),
  value: z.number('Enter a number.').optional(),
  note: z.string().trim().max(300, 'At most 300 letters.').optional(),
})

export const colonyRuleSchema = z.strictObject({
  speciesId: z.uuid(),
  /** the number of the profile version that was on screen */
  version: z.number().int().positive(),
  allows: z.boolean(),
  note: z.string().trim().min(1, 'Say what it rests on.').max(300, 'At most 300 letters.'),
})

const speciesAnswer = z
  .strictObject({
    id: z.string(),
    slug: z.string(),
    scientificName: z.string(),
    commonName: z.string(),
    kind: z.enum(['mantis', 'other']),
    profileNumber: z.number().int().nullable().meta({ description: 'version of the care profile in force' }),
  })
  .meta({ id: 'Species' })

const source = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('published'), citation: z.string() }),
  z.strictObject({ kind: z.literal('default') }),
  z.strictObject({ kind: z.literal('own'), note: z.string() }),
])

const careProfileAnswer = z
  .strictObject({
    species: speciesAnswer,
    number: z.number().int().meta({ description: 'rises with every change; send it as If-Match' }),
    values: z.array(
      z.strictObject({
        path: z.string(),
        label: z.string(),
        unit: z.string(),
        value: z.union([z.number(), z.string(), z.boolean(), z.null()]),
        source,
        note: z.string().nullable(),
        isEditable: z.boolean(),
      }),
    ),
  })
  .meta({ id: 'CareProfile' })

const params = z.strictObject({
  id: z.string().min(1).max(120).meta({ description: 'id, or slug of the scientific name' }),
})
const TAG = 'Species'

export const speciesApi = {
  list: describeApi({
    id: 'listSpecies',
    method: 'get',
    path: '/species',
    tag: TAG,
    summary: 'Species kept here',
    permission: 'species:read',
    answer: listAnswer(speciesAnswer),
  }),
  get: describeApi({
    id: 'getSpecies',
    method: 'get',
    path: '/species/{id}',
    tag: TAG,
    summary: 'One species',
    permission: 'species:read',
    params,
    answer: speciesAnswer,
  }),
  getCareProfile: describeApi({
    id: 'getCareProfile',
    method: 'get',
    path: '/species/{id}/care-profile',
    tag: TAG,
    summary: 'The care profile in force, each value with its source or “default”',
    permission: 'species:read',
    params,
    answer: careProfileAnswer,
  }),
  updateCareProfile: describeApi({
    id: 'updateCareProfile',
    method: 'patch',
    path: '/species/{id}/care-profile',
    tag: TAG,
    summary: 'Change values; makes a new version and keeps the old one',
    permission: 'species:write',
    params,
    body: updateCareProfileSchema,
    answer: careProfileAnswer,
  }),
}

type Described = Omit<z.input<typeof speciesAnswer>, 'profileNumber'> & { profileNumber: number | null }

/** A species as the API shows it. */
export function presentSpecies(species: Described): z.input<typeof speciesAnswer> {
  const { id, slug, scientificName, commonName, kind, profileNumber } = species
  return { id, slug, scientificName, commonName, kind, profileNumber }
}

/**
 * A care profile as the API shows it.
 * @throws AppError not-found for a species whose instars nobody has defined
 */
export function presentCareProfile(
  species: Described & { profile: CareProfile | null },
): z.input<typeof careProfileAnswer> {
  if (!species.profile || species.profileNumber === null) throw refuseUnknown('care profile')
  const values = listProfileValues(species.profile).map(
    ({ path, label, unit, value: figure, source: from, note, isEditable }) => ({
      path,
      label,
      unit,
      value: figure,
      source: from,
      note,
      isEditable,
    }),
  )
  return { species: presentSpecies(species), number: species.profileNumber, values }
}
