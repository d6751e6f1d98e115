type Row = Record<string, unknown>

export type RecordedChange = { tableName: string; change: string; before: unknown; after: unknown }

/** A change in words: what was done to what, and which values went from what to what. */
export type DescribedChange = { what: string; details: string[] }

const NOUNS: Record<string, string> = {
  api_token: 'API token',
  care_profile: 'care profile',
  care_sheet: 'care sheet',
  clutch_housing: 'place of a clutch',
  clutch_observation: 'what was seen of a clutch',
  container_kind: 'kind of container',
  container_kind_order: 'order of containers',
  egg_case: 'egg case',
  egg_case_stay: 'place of an egg case',
  head_count_entry: 'head count entry',
  housing: 'place of an animal',
  individual: 'animal',
  mail_message: 'mail',
  membership: 'person',
  moult_round: 'moult round',
  public_link: 'public page',
  sale_line: 'line of a sale',
  sale_reversal: 'reversal of a sale',
  workspace_slug: 'address of the workspace',
  zone_set_point: 'temperature of a zone',
  zone_watch: 'watch of a zone',
  zone_watcher: 'person on watch',
  zone_incident: 'incident',
}

const VERBS: Record<string, string> = { insert: 'recorded', update: 'changed', delete: 'removed' }

/** Bookkeeping that says nothing to a person, and what must not be shown. */
const HIDDEN =
  /^(workspace_id|id|version|created_at|recorded_at|recorded_by|token_hash|label_key|content|body)$|_id$/

const NAMING = ['label', 'name', 'display_name', 'scientific_name', 'slug', 'subject', 'number']
const LONGEST = 60

export function describeChange({ tableName, change, before, after }: RecordedChange): DescribedChange {
  const noun = NOUNS[tableName] ?? tableName.replaceAll('_', ' ')
  const row = asRow(after) ?? asRow(before) ?? {}
  const naming = NAMING.map((key) => row[key]).find(
    (value) => typeof value === 'string' || typeof value === 'number',
  )
  const subject = naming === undefined ? noun : `${noun} ${naming}`
  return {
    what: `${capitalise(subject)} ${VERBS[change] ?? change}`,
    details: listDetails(asRow(before), asRow(after)),
  }
}

function listDetails(before: Row | undefined, after: Row | undefined): string[] {
  const keys = Object.keys(after ?? before ?? {}).filter((key) => !HIDDEN.test(key))
  return keys.flatMap((key) => {
    const [old, now] = [sayValue(before?.[key]), sayValue(after?.[key])]
    const label = key.replaceAll('_', ' ')
    if (before && after) return old === now ? [] : [`${label}: ${old} → ${now}`]
    const only = after ? now : old
    return only === 'nothing' || NAMING.includes(key) ? [] : [`${label}: ${only}`]
  })
}

function sayValue(value: unknown): string {
  if (value === undefined || value === null || value === '' || (Array.isArray(value) && value.length === 0))
    return 'nothing'
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value).replaceAll('_', ' ')
  return text.length > LONGEST ? `${text.slice(0, LONGEST)} …` : text
}

function isRow(value: unknown): value is Row {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function asRow(value: unknown): Row | undefined {
  return isRow(value) ? value : undefined
}

function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
