import { describe, expect, it } from "vitest";
import { readData } from "../../src/read/read-data.js";
import { bytesOf, cells, refusal } from "./table-cells.js";
import { inCodePage } from "./write-code-page.js";

const arabic = "الفريق,الجنس,الوزن\n1,ذكر,9.1\n2,أنثى,8.4\n";
const texts: readonly (readonly [string, string])[] = [
  ["French", "équipe;sexe;âge\n1;garçon;fillette très âgée\n"],
  ["French in capitals", "ÉQUIPE;SEXE;ÂGE\n1;GARÇON;À L'ÉCOLE\n"],
  ["Spanish", "niño,peso,año\n1,9,Bogotá está allí\n"],
  ["Portuguese", "criança,região,mãe\n1,São João,avó\n"],
];

describe("a code page", () => {
  it.each(texts)("of %s is that of Western Europe", async (_, text) => {
    const table = await readData(inCodePage("windows-1252", text), "data.csv");
    expect([table.encoding, table.encodingAssumed]).toEqual(["windows-1252", true]);
    expect(table.columns[0]?.name).toBe(text.split(/[;,]/)[0]);
  });

  it("is none where a few bytes spoil a file in UTF-8: they are named by their rows", async () => {
    const [name, place, slip] = [
      "district,sex\n",
      "Ombrél,m\nTazvín,f\nOmbrél,f\n",
      Buffer.from("4f6d6272e96c2c6d0a", "hex"),
    ];
    const problems = await refusal(readData(Buffer.concat([Buffer.from(name + place), slip]), "data.csv"));
    expect(problems).toMatchObject([{ kind: "stray-byte", row: 5 }]);
  });

  it("of Western Europe has more signs than Latin-1: all of them are read", async () => {
    // Bytes 0x8c, 0x9c, 0x80, 0x92, 0x8a and 0x9f of Windows-1252 (WHATWG Encoding Standard, index windows-1252).
    const bytes = Buffer.from("9c64e86d65732c610a8c752080922c8a9f0a", "hex");
    const table = await readData(bytes, "data.csv");
    expect(cells(table)).toEqual({ œdèmes: ["Œu €’"], a: ["ŠŸ"] });
    expect(table.encodingSample).toBe("œdèmes");
  });

  it("of Arabic is that of Arabic, by its words or by the settings' language", async () => {
    const bytes = inCodePage("windows-1256", arabic);
    const table = await readData(bytes, "data.csv");
    expect([table.encoding, table.encodingAssumed, table.encodingSample]).toEqual(["windows-1256", true, "الفريق"]);
    expect(cells(table)).toEqual({ الفريق: ["1", "2"], الجنس: ["ذكر", "أنثى"], الوزن: ["9.1", "8.4"] });
    const few = inCodePage("windows-1252", "équipe,sexe\n1,m\n");
    expect((await readData(few, "data.csv", { language: "ar" })).encoding).toBe("windows-1256");
    expect((await readData(few, "data.csv", { language: "fr" })).encoding).toBe("windows-1252");
  });

  it("is settled by the settings, and then no assumption", async () => {
    const table = await readData(inCodePage("windows-1256", arabic), "data.csv", { encoding: "windows-1252" });
    expect([table.encoding, table.encodingAssumed]).toEqual(["windows-1252", undefined]);
    expect(table.encodingSample).toBeUndefined();
  });
});

describe("an encoding", () => {
  it("that the settings state and the bytes contradict is refused", async () => {
    const bytes = inCodePage("windows-1252", "équipe,sexe\n1,m\n");
    expect(await refusal(readData(bytes, "data.csv", { encoding: "utf-8" }))).toMatchObject([
      { kind: "encoding-contradicted" },
    ]);
  });

  it("of 16 bits is found without a mark, and stated", async () => {
    const little = Buffer.from("sex,weight\nm,9\n", "utf16le");
    const big = Buffer.from(little).swap16();
    expect((await readData(little, "data.csv")).encoding).toBe("utf-16le");
    expect((await readData(big, "data.csv")).encoding).toBe("utf-16be");
    const stated = await readData(Buffer.from("جنس,وزن\nm,9\n", "utf16le"), "data.csv", { encoding: "utf-16le" });
    expect(stated.columns.map((column) => column.name)).toEqual(["جنس", "وزن"]);
  });

  it("marked as UTF-8 that is not UTF-8 is read in a code page", async () => {
    const bytes = Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), inCodePage("windows-1252", "équipe,sexe\n1,m\n")]);
    expect((await readData(bytes, "data.csv")).columns[0]?.name).toBe("équipe");
  });

  it("PAR1 may begin a text", async () => {
    expect((await readData(bytesOf("PAR1,weight\n1,9\n"), "data.csv")).rowCount).toBe(1);
  });
});
