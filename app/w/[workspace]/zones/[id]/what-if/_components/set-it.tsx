'use client'

import { useRouter } from 'next/navigation'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { recordSetPointAction } from '@/lib/features/zone/actions'

type Props = {
  workspace: string
  setPoint: { zoneId: string; from: string; dayC: number; nightC: number | null }
}

export function SetIt({ workspace, setPoint }: Props) {
  const done = useDone()
  const router = useRouter()
  const { nightC, ...rest } = setPoint
  return (
    <ActionButton
      kind="filled"
      action={recordSetPointAction}
      workspace={workspace}
      input={nightC === null ? rest : setPoint}
      onDone={() => {
        done('Set from today. The forecasts follow it.')
        router.push(`/w/${workspace}/zones/${setPoint.zoneId}`)
      }}
    >
      Set it from today
    </ActionButton>
  )
}
