import type { Children } from "../../derive/children.js";
import { makeDesign, type SurveyDesign } from "../../stats/design/survey-design.js";
import { measurementDesign } from "./clustering.js";

/** The design of the measurements as such, without weights; where there are no clusters each child is its own. */
export function unweightedDesign(children: Children): SurveyDesign {
  return (
    measurementDesign(children) ?? makeDesign({ count: children.count, cluster: null, stratum: null, weight: null })
  );
}
