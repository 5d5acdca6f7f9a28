/**
 * Nothing is printed about fewer children than this (and more than none).
 *
 * Demographic and Health Surveys and Multiple Indicator Cluster Surveys, table notes: under 25 unweighted cases not shown,
 * 25 to 49 in parentheses (read). That what could be worked out from the rest counts as printed is an own rule.
 */
export const withholdBelow = 25;
