// Open a workbook with the npm package xlsx and save it again: node save_xlsx.mjs IN OUT.xlsx
// The folder of the installed packages is named by WORKBOOK_TOOLS_NODE_MODULES.
import { createRequire } from "node:module";
import path from "node:path";

const require = createRequire(path.join(process.env.WORKBOOK_TOOLS_NODE_MODULES, "packages.js"));
const XLSX = require("xlsx");
const [source, target] = process.argv.slice(2);
const workbook = XLSX.readFile(source, { cellStyles: true, cellNF: true, cellFormula: true });
XLSX.writeFile(workbook, target, { bookType: path.extname(target).slice(1), cellStyles: true });
