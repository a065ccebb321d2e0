/**
 * Reads scripts as syntax trees, for the rules about the code. It writes every name that they bind as JSON, and the number of
 * lines of each function. The arguments are the type checker's settings files, which list the scripts.
 *
 * @typedef {{file: string, line: number, name: string, lines: number|null}} Bound lines: null for a name of another kind
 */

const types = new URL("../../.tools/node_modules/typescript/dist/", import.meta.url);
/** @param {string} path @returns {Promise<any>} */
const load = (path) => import(new URL(path, types).href);

const [{ API }, { SyntaxKind: K }] = [await load("api/sync/api.js"), await load("ast/index.js")];
const NAMED = new Set([
  K.VariableDeclaration,
  K.BindingElement,
  K.Parameter,
  K.ImportSpecifier,
  K.NamespaceImport,
  K.PropertyDeclaration,
  K.ClassDeclaration,
  K.TypeAliasDeclaration,
  K.JSTypeAliasDeclaration,
]);
const FUNCTIONS = new Set([
  K.FunctionDeclaration,
  K.FunctionExpression,
  K.ArrowFunction,
  K.MethodDeclaration,
  K.Constructor,
  K.GetAccessor,
  K.SetAccessor,
]);

/** Counts the lines of a function with a block; a function that is one expression is not counted. @param {any} node @param {any} file @returns {number|null} */
function linesOf(node, file) {
  if (!FUNCTIONS.has(node.kind) || node.body?.kind !== K.Block) return null;
  return lineAt(file, node.end) - lineAt(file, node.getStart(file)) + 1;
}

/** @param {any} file @param {number} position @returns {number} from 1 */
const lineAt = (file, position) => file.text.slice(0, position).split("\n").length;

/** @param {any} file @returns {Bound[]} */
function boundIn(file) {
  /** @type {Bound[]} */
  const found = [];
  const visit = (/** @type {any} */ node) => {
    const name = node.name?.kind === K.Identifier || node.name?.kind === K.PrivateIdentifier ? node.name.text : "";
    const lines = linesOf(node, file);
    if (lines !== null || (name && (NAMED.has(node.kind) || FUNCTIONS.has(node.kind))))
      found.push({ file: file.fileName, line: lineAt(file, node.getStart(file)), name: name.replace(/^#/, ""), lines });
    node.forEachChild(visit);
  };
  visit(file);
  return found;
}

const api = new API({ cwd: process.cwd() });
/** @type {Map<string, Bound[]>} */
const byFile = new Map();
for (const settings of process.argv.slice(2)) {
  const project = api.updateSnapshot({ openProjects: [settings] }).getProject(settings);
  for (const name of project.rootFiles) byFile.set(name, boundIn(project.program.getSourceFile(name)));
}
api.close();
process.stdout.write(JSON.stringify([...byFile.values()].flat()));
