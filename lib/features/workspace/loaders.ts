import { listPermissions, type Permission, type Role } from '@/lib/domain/role/permissions'
import { readMembership } from '@/lib/platform/current-session'
import { inWorkspace, requireScope, type Workspace } from '@/lib/platform/workspace'

export type ShellFacts = {
  workspaceName: string
  personName: string
  email: string
  role: Role
  permissions: Permission[]
}

/** What the frame around a page shows; nothing for whoever does not belong here. The page itself is the gate. */
export async function loadShell(slug: string): Promise<ShellFacts | undefined> {
  const read = await readMembership(slug)
  if (!read?.role || !read.workspaceName || read.lacksSecondFactor) return undefined
  return {
    workspaceName: read.workspaceName,
    personName: read.name,
    email: read.email,
    role: read.role,
    permissions: listPermissions(read.role),
  }
}

export type Settings = Pick<
  Workspace,
  | 'name'
  | 'slug'
  | 'country'
  | 'timeZone'
  | 'currency'
  | 'language'
  | 'instarConvention'
  | 'instarStyle'
  | 'temperatureUnit'
  | 'lengthUnit'
  | 'contact'
  | 'claimTerms'
  | 'foodText'
  | 'version'
>

export async function loadSettingsPage(
  slug: string,
): Promise<{ settings: Settings; permissions: Permission[] }> {
  const scope = await requireScope(slug, 'workspace:write')
  return inWorkspace(scope, async (_tx, workspace) => ({
    settings: pickSettings(workspace),
    permissions: listPermissions(scope.role),
  }))
}

function pickSettings(workspace: Settings): Settings {
  const { name, slug, country, timeZone, currency, language, version } = workspace
  const { instarConvention, instarStyle, temperatureUnit, lengthUnit, contact, claimTerms, foodText } =
    workspace
  return {
    ...{ name, slug, country, timeZone, currency, language, version },
    ...{ instarConvention, instarStyle, temperatureUnit, lengthUnit, contact, claimTerms, foodText },
  }
}
