// Puts the editor's parts into one script, and their licences into one text.
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { build } from "esbuild";

const made = await build({
  entryPoints: ["parts.js"],
  bundle: true,
  minify: true,
  format: "iife",
  globalName: "editing",
  target: "es2022",
  charset: "utf8",
  legalComments: "none",
  metafile: true,
  outfile: "made.js",
});
const names = new Set(
  Object.keys(made.metafile.inputs)
    .map((file) => /^node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(file)?.[1])
    .filter(Boolean),
);
const texts = new Map();
for (const name of [...names].sort()) {
  const folder = `node_modules/${name}`;
  const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
  const text = readFileSync(`${folder}/${file}`, "utf8").trim();
  texts.set(text, [...(texts.get(text) ?? []), name]);
}
writeFileSync("licences.txt", [...texts].map(([text, all]) => `${all.join(", ")}\n\n${text}\n`).join("\n\n"));
