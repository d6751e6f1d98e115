import { z } from 'zod'

/** The temperatures to try, as figures in the unit of the workspace; empty: as it is set now. */
const zoneChangeSearch = z.strictObject({
  day: z.coerce.number().optional().catch(undefined),
  night: z.coerce.number().optional().catch(undefined),
})
export type ZoneChangeSearch = z.output<typeof zoneChangeSearch>

type Asked = string | string[] | undefined

/** What an address asks for; what is no figure counts as not said. */
export function readZoneChange({ day, night }: Record<string, Asked>): ZoneChangeSearch {
  const said = { day: day || undefined, night: night || undefined }
  return zoneChangeSearch.parse(said)
}
