import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { ShortFood } from '@/lib/domain/food-demand/short'
import { mergeLines, type StoredLine } from '@/lib/domain/prey/kept-line'
import { storedLines } from '@/lib/features/prey/data'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** Below this chance that nobody of a class goes short in a week, its food is short. */
const SHORT_CHANCE = 0.9

/**
 * Who goes short of food in the days from one on, by the plan of live food that was in force then. Null where nobody
 * does, and where nobody has asked for a plan. One statement.
 */
export async function loadShortFood(
  tx: Tx,
  workspaceId: WorkspaceId,
  day: PlainDate,
): Promise<ShortFood | null> {
  const rows = await tx.$queryRaw<{ keys: string[]; stored: StoredLine[] }[]>`
    with short as (
    select distinct p.answer->'keys'->>(s->>'class') as key
    from (
      select x.answer from food_plan x
      where x.workspace_id = ${workspaceId}::uuid and x.state = 'done' and not x.is_trial and x.answer is not null
        and x.from_on <= ${day}::date
      order by x.id desc limit 1) p
    cross join lateral jsonb_array_elements(p.answer->'weeks') w
    cross join lateral jsonb_array_elements(w->'expectedShortage') s
    where w->>'from' <= ${day} and w->>'from' > ${addDays(day, -7)}
      and (s->>'chanceMet')::float8 < ${SHORT_CHANCE} and p.answer->'keys' ? (s->>'class'))
    select (select array_agg(key) from short) as keys,
      (select coalesce(json_agg(l), '[]') from (${storedLines(workspaceId)}) l) as stored
    where exists (select 1 from short)`
  const [found] = rows
  if (!found) return null
  return {
    classKeys: new Set(found.keys),
    lines: mergeLines(found.stored).flatMap(({ line, kept }) => (kept ? [line] : [])),
  }
}
