import { cookies } from 'next/headers'
import type { ReactNode } from 'react'
import { IncidentBar } from '@/components/incident/incident-bar'
import { ScanButton } from '@/components/scan/scan-button'
import { SignInAgainProvider } from '@/components/session/sign-in-again-provider'
import { PlainFrame } from '@/components/shell/plain-frame'
import { Shell } from '@/components/shell/shell'
import { getTheme, THEME_COOKIE } from '@/components/theme/theme'
import { loadShell } from '@/lib/features/workspace/loaders'
import { Personal } from './_components/personal'
import { listPlaces } from './_components/places'
import { WorkspaceName } from './_components/workspace-name'

type Props = { children: ReactNode; params: Promise<{ workspace: string }> }

/** The frame. Whether someone may be here is decided by each page; a stranger gets the page's answer in a plain frame. */
export default async function WorkspaceLayout({ children, params }: Props) {
  const { workspace } = await params
  const shell = await loadShell(workspace)
  if (!shell) return <PlainFrame>{children}</PlainFrame>
  const theme = getTheme((await cookies()).get(THEME_COOKIE)?.value)
  return (
    <SignInAgainProvider email={shell.email}>
      <Shell
        alarm={<IncidentBar workspace={workspace} mayTake={shell.permissions.includes('incident:take')} />}
        places={listPlaces(workspace)}
        permissions={shell.permissions}
        workspace={<WorkspaceName name={shell.workspaceName} />}
        scan={shell.permissions.includes('individual:read') ? <ScanButton workspace={workspace} /> : null}
        personal={<Personal name={shell.personName} role={shell.role} theme={theme} />}
      >
        {children}
      </Shell>
    </SignInAgainProvider>
  )
}
