import { join } from "node:path";

/**
 * A fontconfig file for the packaged browser: the fonts that came with it first, then those of the machine. The
 * report embeds its own fonts; these only stand in for signs those lack, such as a place name in another script.
 * Without any font, text would silently vanish from the page.
 */
export function fontsConf(browserFolder: string, home: string): string {
  const folders = [
    join(browserFolder, "fonts"),
    "/usr/share/fonts",
    "/usr/local/share/fonts",
    join(home, ".local/share/fonts"),
    join(home, ".fonts"),
  ];
  const aliases = ["sans-serif", "serif", "monospace", "system-ui"].map(
    (family) => `<alias binding="strong"><family>${family}</family><prefer><family>Open Sans</family></prefer></alias>`,
  );
  return [
    '<?xml version="1.0"?>',
    '<!DOCTYPE fontconfig SYSTEM "fonts.dtd">',
    "<fontconfig>",
    ...folders.map((folder) => `<dir>${escapeXml(folder)}</dir>`),
    `<cachedir>${escapeXml(join(browserFolder, "font-cache"))}</cachedir>`,
    "<cachedir>/var/cache/fontconfig</cachedir>",
    ...aliases,
    "</fontconfig>",
    "",
  ].join("\n");
}

function escapeXml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
