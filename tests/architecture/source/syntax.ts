import ts from 'typescript'

/** Every node below one, in source order. */
export function listNodes(root: ts.Node): ts.Node[] {
  const found: ts.Node[] = []
  const visit = (node: ts.Node): void => {
    found.push(node)
    ts.forEachChild(node, visit)
  }
  ts.forEachChild(root, visit)
  return found
}

export function lineOf(syntax: ts.SourceFile, node: ts.Node): number {
  return syntax.getLineAndCharacterOfPosition(node.getStart(syntax)).line + 1
}

export function isExported(node: ts.Node): boolean {
  return (
    ts.canHaveModifiers(node) &&
    (ts.getModifiers(node) ?? []).some((m) => m.kind === ts.SyntaxKind.ExportKeyword)
  )
}

export type NamedFunction = {
  name: string
  node: ts.FunctionDeclaration | ts.ArrowFunction | ts.FunctionExpression
  exported: boolean
}

/** The functions of a module's top level, however they are written. */
export function listFunctions(syntax: ts.SourceFile): NamedFunction[] {
  return syntax.statements.flatMap((statement): NamedFunction[] => {
    if (ts.isFunctionDeclaration(statement) && statement.body)
      return [{ name: statement.name?.text ?? 'default', node: statement, exported: isExported(statement) }]
    return listConstants(statement).flatMap(({ name, value, exported }) =>
      value && (ts.isArrowFunction(value) || ts.isFunctionExpression(value))
        ? [{ name, node: value, exported }]
        : [],
    )
  })
}

export type Constant = { name: string; value: ts.Expression | undefined; exported: boolean }

/** What `const name = …` statements of the top level declare. */
export function listConstants(statement: ts.Statement): Constant[] {
  if (!ts.isVariableStatement(statement)) return []
  const exported = isExported(statement)
  return statement.declarationList.declarations.flatMap((declaration) =>
    ts.isIdentifier(declaration.name)
      ? [{ name: declaration.name.text, value: declaration.initializer, exported }]
      : [],
  )
}

/** The names a piece of code uses, wherever they come from. */
export function listUsedNames(root: ts.Node): Set<string> {
  return new Set(listNodes(root).flatMap((node) => (ts.isIdentifier(node) ? [node.text] : [])))
}

/** `a.b.c` as text when an expression is just that. */
export function readDotted(node: ts.Node): string | undefined {
  if (ts.isIdentifier(node)) return node.text
  if (!ts.isPropertyAccessExpression(node)) return undefined
  const before = readDotted(node.expression)
  return before && `${before}.${node.name.text}`
}

/** The value written for a property of an object literal. */
export function getProperty(object: ts.ObjectLiteralExpression, name: string): ts.Node | undefined {
  for (const property of object.properties) {
    if (ts.isShorthandPropertyAssignment(property) && property.name.text === name) return property.name
    if (ts.isPropertyAssignment(property) && property.name.getText().replace(/['"]/g, '') === name)
      return property.initializer
  }
  return undefined
}
