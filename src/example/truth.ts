import { daysPerMonth } from "../derive/age.js";
import { armAt, standardHeightAt, weightAt } from "./growth.js";
import { type House, housesOf } from "./houses.js";
import type { Cluster, Fieldwork } from "./place.js";
import { ageAtShare, armForAge, boysPerGirl, heightForAge, meanHeightForAge, weightForHeight } from "./population.js";
import type { Streams } from "./streams.js";

/** A child as it truly is, before anybody measured it. */
export interface TrueChild {
  readonly cluster: Cluster;
  /** Number of the house within the cluster, and of the child within the house from 1. */
  readonly house: number;
  readonly line: number;
  /** 1 male, 2 female. */
  readonly sex: 1 | 2;
  /** Completed days on the day of the visit. */
  readonly ageDays: number;
  readonly weightForHeight: number;
  readonly heightForAge: number;
  readonly armForAge: number;
  readonly oedema: boolean;
  /** Length (under 731 days) or height (from there), cm. */
  readonly standardHeight: number;
  /** Kilograms. */
  readonly weight: number;
  /** Arm circumference, mm; NaN under 91 days, where the standard does not go. */
  readonly arm: number;
}

/** How far a group of children lies from the population's mean, in z. */
interface Deviation {
  readonly weightForHeight: number;
  readonly heightForAge: number;
}

const oedemaShare = 0.005;

function deviationOfCluster(cluster: Cluster, districts: Fieldwork["districts"], streams: Streams): Deviation {
  const district = districts[cluster.district] ?? districts[0];
  const draw = (variance: number): number => streams["cluster effects"].normal() * Math.sqrt(variance);
  return {
    weightForHeight: district.weightForHeightShift + draw(weightForHeight.variances.cluster),
    heightForAge: district.heightForAgeShift + draw(heightForAge.variances.cluster),
  };
}

function deviationOfHouse(streams: Streams): Deviation {
  const draw = (variance: number): number => streams["household effects"].normal() * Math.sqrt(variance);
  return {
    weightForHeight: draw(weightForHeight.variances.household),
    heightForAge: draw(heightForAge.variances.household),
  };
}

function zScoresOf(ageDays: number, cluster: Deviation, house: Deviation, streams: Streams) {
  const weightDeviation =
    cluster.weightForHeight +
    house.weightForHeight +
    streams["weight-for-height"].normal() * Math.sqrt(weightForHeight.variances.child);
  const heightDeviation =
    cluster.heightForAge +
    house.heightForAge +
    streams["height-for-age"].normal() * Math.sqrt(heightForAge.variances.child);
  return {
    weightForHeight: weightForHeight.mean + weightDeviation,
    heightForAge: meanHeightForAge((ageDays + 0.5) / daysPerMonth) + heightDeviation,
    armForAge:
      armForAge.mean +
      armForAge.onWeightForHeight * weightDeviation +
      armForAge.onHeightForAge * heightDeviation +
      armForAge.ownSd * streams["arm-for-age"].normal(),
  };
}

function childrenOfHouse(cluster: Cluster, deviation: Deviation, house: House, streams: Streams): TrueChild[] {
  const houseDeviation = deviationOfHouse(streams);
  return house.ages.map((ageDays, position) => {
    const sex = streams.sexes.uniform() < boysPerGirl / (1 + boysPerGirl) ? 1 : 2;
    const z = zScoresOf(ageDays, deviation, houseDeviation, streams);
    const standardHeight = standardHeightAt(sex, ageDays, z.heightForAge);
    return {
      cluster,
      house: house.number,
      line: position + 1,
      sex,
      ageDays,
      ...z,
      oedema: streams.oedema.uniform() < oedemaShare,
      standardHeight,
      weight: weightAt(sex, ageDays, standardHeight, z.weightForHeight),
      arm: armAt(sex, ageDays, z.armForAge),
    };
  });
}

/** Every child of the sample, cluster by cluster and house by house. */
export function trueChildren(
  size: number,
  clusters: readonly Cluster[],
  fieldwork: Fieldwork,
  streams: Streams,
): readonly TrueChild[] {
  const typical = size / clusters.length;
  return clusters.flatMap((cluster) => {
    const count = Math.max(2, Math.round(typical * (1 + 0.1 * streams["cluster sizes"].normal())));
    const ages = Array.from({ length: count }, () => ageAtShare(streams.ages.uniform()));
    const deviation = deviationOfCluster(cluster, fieldwork.districts, streams);
    return housesOf(ages, streams["house numbers"]).flatMap((house) =>
      childrenOfHouse(cluster, deviation, house, streams),
    );
  });
}
