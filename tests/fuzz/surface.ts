import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";

const REPORTS = join(import.meta.dirname, "..", "..", "docs", "api");
/** What a person or a file can bring in as it likes; whatever else is required, a compiler has looked at. */
const OPEN_TYPES = /\b(string|unknown|any|Uint8Array|ByteSource|DataFrame)\b/;

/**
 * Everything of the public API that takes what a person typed or a file holds: "siltbook parseIso4406",
 * "siltbook/book Book.open", "siltbook/intake columnMapSchema"; with "all", every function and method. It is read from
 * the reports of `docs/api`, which a test holds against the code.
 */
export function publicFunctions(which: "open" | "all" = "open"): string[] {
  const reports = readdirSync(REPORTS)
    .filter((name) => name.endsWith(".api.md"))
    .map((name) => {
      const code = /```ts\n(.*)```/s.exec(readFileSync(join(REPORTS, name), "utf8"))?.[1] ?? "";
      return {
        entryPoint: name.replace(".api.md", "").replace("siltbook-", "siltbook/"),
        statements: ts.createSourceFile("report.d.ts", code, ts.ScriptTarget.Latest, true).statements,
      };
    });
  // A type has one name and one entry point, and any other may use it.
  const types: Types = new Map(
    reports
      .flatMap(({ statements }) => [...statements])
      .filter((node) => ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node))
      .map((node) => [node.name.text, node]),
  );
  const isWanted = (node: ts.SignatureDeclaration) => which === "all" || isOpen(node, types);
  return reports.flatMap(({ entryPoint, statements }) =>
    functionsOf(statements, isWanted).map((found) => `${entryPoint} ${found}`),
  );
}

type Types = ReadonlyMap<string, ts.InterfaceDeclaration | ts.TypeAliasDeclaration>;

function functionsOf(
  statements: readonly ts.Statement[],
  isWanted: (node: ts.SignatureDeclaration) => boolean,
): string[] {
  return statements.flatMap((node): string[] => {
    if (!ts.canHaveModifiers(node) || !ts.getModifiers(node)?.some(isExport)) return [];
    if (ts.isFunctionDeclaration(node)) return isWanted(node) ? [node.name?.text ?? ""] : [];
    if (ts.isClassDeclaration(node)) {
      return node.members.flatMap((member) =>
        (ts.isMethodDeclaration(member) || ts.isConstructorDeclaration(member)) && isWanted(member)
          ? [`${node.name?.text}.${member.name?.getText() ?? "constructor"}`]
          : [],
      );
    }
    if (!ts.isVariableStatement(node)) return [];
    return node.declarationList.declarations
      .filter(({ type }) => type?.getText().startsWith("z.Zod"))
      .map(({ name }) => name.getText());
  });
}

const isExport = ({ kind }: ts.ModifierLike) => kind === ts.SyntaxKind.ExportKeyword;

/** Whether a parameter is open, or names an object of which a field is. */
function isOpen({ parameters }: ts.SignatureDeclaration, types: Types): boolean {
  return parameters.some(({ type }) => {
    const written = type?.getText() ?? "any";
    const named = (written.match(/\w+/g) ?? []).map((name) => types.get(name));
    return (
      OPEN_TYPES.test(written) ||
      named.some(
        (declared) =>
          declared !== undefined &&
          ts.isInterfaceDeclaration(declared) &&
          declared.members.some(
            (member) => ts.isPropertySignature(member) && OPEN_TYPES.test(member.type?.getText() ?? ""),
          ),
      )
    );
  });
}
