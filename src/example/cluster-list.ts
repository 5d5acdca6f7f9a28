import { districts } from "./place.js";
import type { ExampleSurvey } from "./survey.js";

/** The cluster of the sample survey that was visited in place of another, and the one given up for it. */
const visitedInstead = 312;
const givenUp = 313;
/** Clusters held in reserve that were not needed. */
const spare = [113, 213] as const;
/** Houses that had a child when the list was made, and in which nobody was met: 0, 1 or 2 a cluster, by turns. */
const notMet = (cluster: number): number => (cluster * 7) % 3;

/** Houses with a child that the teams came to, by cluster. */
function housesVisited({ records }: ExampleSurvey): Map<number, Set<number>> {
  const houses = new Map<number, Set<number>>();
  for (const { cluster, house } of records) houses.set(cluster, (houses.get(cluster) ?? new Set()).add(house));
  return houses;
}

/**
 * The list of the clusters drawn for the sample survey, reserve clusters among them, with the houses counted in each and
 * those with a child that were to be visited: 36 planned clusters, of which one could not be reached.
 */
export function clusterListCsv(survey: ExampleSurvey): string {
  const visited = housesVisited(survey);
  const numbers = [...new Set([...visited.keys(), givenUp, ...spare])].sort((a, b) => a - b);
  const lines = numbers.map((number) => {
    const toVisit = (visited.get(number)?.size ?? 19) + notMet(number);
    const inReserve =
      number === visitedInstead || ((spare as readonly number[]).includes(number) && !visited.has(number));
    const district = districts[Math.floor(number / 100) - 1]?.name ?? "";
    return [number, district, 3 * toVisit + (number % 7), toVisit, inReserve ? "yes" : "no"].join(",");
  });
  return `${["cluster_no,district,houses_counted,houses_to_visit,in_reserve", ...lines].join("\n")}\n`;
}
