import { z } from 'zod'
import { isCountryCode } from '@/lib/domain/place/country'

export const LANGUAGES = [
  { value: 'en', label: 'English' },
  { value: 'de', label: 'German' },
  { value: 'fr', label: 'French' },
  { value: 'es', label: 'Spanish' },
  { value: 'nl', label: 'Dutch' },
] as const

const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/
const slug = z
  .string()
  .trim()
  .min(3, 'At least 3 letters.')
  .max(60, 'At most 60 letters.')
  .regex(SLUG, 'Small letters a to z, figures, and single hyphens between them.')
const name = z.string().trim().min(1, 'Give it a name.').max(80, 'At most 80 letters.')
const timeZone = z.string().max(60).refine(isTimeZone, 'Choose a time zone.')
const country = z.string().refine(isCountryCode, 'Choose a country.')
const currency = z.string().refine(isCurrency, 'Choose a currency.')
const language = z.enum(['en', 'de', 'fr', 'es', 'nl'], 'Choose a language.')

export const createWorkspaceSchema = z.strictObject({ name, slug, country, timeZone, currency, language })
export type CreateWorkspace = z.output<typeof createWorkspaceSchema>

export const updateWorkspaceSchema = z.strictObject({
  version: z.number().int().positive(),
  name,
  country,
  timeZone,
  language,
  instarConvention: z.enum(['hatchling_is_first', 'hatchling_is_second']),
  instarStyle: z.enum(['ordinal', 'l_number']),
  temperatureUnit: z.enum(['celsius', 'fahrenheit']),
  lengthUnit: z.enum(['millimetre', 'inch']),
  contact: z.string().trim().max(500, 'At most 500 letters.').optional(),
  claimTerms: z.string().trim().max(1000, 'At most 1000 letters.').optional(),
  foodText: z.string().trim().max(300, 'At most 300 letters.').optional(),
})
export type UpdateWorkspace = z.output<typeof updateWorkspaceSchema>

export const requireSecondFactorSchema = z.strictObject({ isRequired: z.boolean() })

export const changeSlugSchema = z.strictObject({ version: z.number().int().positive(), slug })
export type ChangeSlug = z.output<typeof changeSlugSchema>

/** `larch-lane-mantids` from “Larch Lane Mantids”; what has no Latin letters is left out. */
export function suggestSlug(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 60)
    .replace(/^-+|-+$/g, '')
}

function isTimeZone(text: string): boolean {
  return text === 'UTC' || Intl.supportedValuesOf('timeZone').includes(text)
}

function isCurrency(text: string): boolean {
  return Intl.supportedValuesOf('currency').includes(text)
}
