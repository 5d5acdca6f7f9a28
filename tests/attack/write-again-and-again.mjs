// A run that writes one output after the other into a folder until it is killed; every file of an output bears its number.
const [, , built, folder, first] = process.argv;
const { writeReport } = await import(built);
for (let number = Number(first); ; number++) {
  const text = `${number}\n`.repeat(20_000);
  const tables = Array.from({ length: 12 }, (_, i) => ({ name: `tables/t${i}.csv`, content: text }));
  const results = JSON.stringify({ format: "tareline-results", number });
  await writeReport(folder, [
    { name: "report.html", content: text },
    { name: "report.pdf", content: Buffer.from(text) },
    { name: "results.json", content: results },
    ...tables,
  ]);
  process.stdout.write(`${number}\n`);
}
