import { daysBetween, type PlainDate } from '@/lib/domain/calendar/date'
import type { DemandInput } from '@/lib/domain/food-demand/demand'
import type { OtherMouth } from '@/lib/domain/food-demand/other-mouth'
import type { RoomLine } from '@/lib/domain/prey/kept-line'
import type { PreyLine } from '@/lib/domain/prey/line'
import { type FoodRoom, loadFoodRoom } from '@/lib/features/food-room/data'
import { listPreyLines } from '@/lib/features/prey/data'
import { loadRoomGround, type RoomGround } from '@/lib/features/room-forecast/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import type { Workspace } from '@/lib/platform/workspace'

/** What the need of live food is worked out from, by `foodDemand`; nothing is asked of the database after it. */
export type DemandGround = {
  input: DemandInput
  /** Kept here, and all there are. */
  lines: PreyLine[]
  allLines: RoomLine[]
  foodRoom: FoodRoom
  leftOut: RoomGround['leftOut']
  ground: RoomGround['ground']
}

const MOST_DAYS = 26 * 7

/** Animals, egg cases, lines that are kept, others who eat. @throws AppError invalid for days too far ahead */
export async function loadDemandGround(
  tx: Tx,
  workspace: Workspace,
  asked: { from?: PlainDate | undefined; weeks: number; asOf?: PlainDate | undefined },
): Promise<DemandGround> {
  const { workspaceId, today } = workspace
  const base = asked.asOf ?? today
  const from = asked.from ?? base
  if (from < base) throw refuseField('from', 'lies before the day that is looked from')
  const days = daysBetween(base, from) + asked.weeks * 7
  if (days > MOST_DAYS) throw refuseField('from', 'The last week is more than half a year ahead.')
  const { asOf } = asked
  const { room, eggCaseLabels, leftOut, ground } = await loadRoomGround(tx, workspace, {
    days,
    ...(asOf ? { asOf } : {}),
  })
  const allLines = await listPreyLines(tx, workspaceId)
  const lines = allLines.flatMap(({ line, kept }) => (kept ? [line] : []))
  const foodRoom = await loadFoodRoom(tx, workspaceId, { today: base })
  const otherMouths = foodRoom.mouths.map(mouthOf)
  return { input: { room, eggCaseLabels, lines, otherMouths }, lines, allLines, foodRoom, leftOut, ground }
}

function mouthOf({ from, until, version: _, ...mouth }: FoodRoom['mouths'][number]): OtherMouth {
  return { ...mouth, ...(from ? { from } : {}), ...(until ? { until } : {}) }
}
