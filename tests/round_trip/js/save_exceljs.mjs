// Open a workbook with exceljs and save it again: node save_exceljs.mjs IN.xlsx OUT.xlsx
// The folder of the installed packages is named by WORKBOOK_TOOLS_NODE_MODULES.
import { createRequire } from "node:module";
import path from "node:path";

const require = createRequire(path.join(process.env.WORKBOOK_TOOLS_NODE_MODULES, "packages.js"));
const ExcelJS = require("exceljs");
const [source, target] = process.argv.slice(2);
const workbook = new ExcelJS.Workbook();
await workbook.xlsx.readFile(source);
await workbook.xlsx.writeFile(target);
