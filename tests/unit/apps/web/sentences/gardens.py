"""Small poor gardens, invented: each lacks something, so that plans of them say much."""

from __future__ import annotations

SITE = """\
site: {{name: Poor ground, latitude_deg: 52.31, longitude_deg: -0.42, elevation_m: 38,
  time_zone: Europe/London, units: {units}}}
season: {{start: 2027-01-01, frost_risk_pct: 5, chance_wanted_pct: 90}}
"""
WEATHER = "weather: {file: weather.csv}\n"
FROST_DATES = "weather: {stated_frost: {last_spring: 05-20, first_autumn: 09-25}}\n"

SCARCE = """\
beds:
  - {code: A, texture: loam, rectangle: {length_m: 6, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}}
  - code: B
    texture: loam
    rectangle: {length_m: 5, width_m: 1.2, east_m: 2, north_m: 0, bearing_deg: 0}
    watering: can
history:
  - {bed: A, year: 2026, crops: [carrot, cabbage]}
wishes:
  - {crop: lettuce, plants: 60, successions: keep picking, priority: 5}
  - {crop: tomato, plants: 12, priority: 4}
  - {crop: cabbage, plants: 10}
  - {crop: carrot, row_m: 20, successions: 2}
  - {crop: sweet corn, plants: 12}
  - {crop: leek, plants: 30, priority: 1}
people: [{name: Helpers, hours_per_week: 3, start: 2027-03-01, end: 2027-10-30}]
water_limits: [{name: one tank, week_l: 90, start: 2027-03-01, end: 2027-10-31}]
propagation: {bench_m2: 0.2, trays: 1}
goals: {quiet_weeks: [{name: holidays, start: 2027-07-20, end: 2027-08-31}]}
"""
"""Hours, water and room for trays are short."""

NARROW = """\
beds:
  - code: A
    name: Old yard
    texture: clay
    rectangle: {length_m: 3, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}
    soil_test: {sampled_on: 2026-10-01, laboratory: invented, ph: 6.5, lead_mg_kg: 420}
  - code: B
    texture: loam
    rectangle: {length_m: 4, width_m: 2.4, east_m: 3, north_m: 0, bearing_deg: 90}
    reach: [north]
    sun_h: 3
    watering: none
  - code: C
    texture: sandy loam
    circle: {radius_m: 0.6, east_m: 9, north_m: 4, bearing_deg: 90}
  - code: D
    texture: loam
    rectangle: {length_m: 2.4, width_m: 0.6, east_m: 9, north_m: 0, bearing_deg: 0}
    supports: [{kind: trellis, side: east, height_m: 1.8}]
manure: [{bed: B, material: horse manure, dug_in_on: 2027-03-10, state: raw}]
neighbours:
  - {together: [tomato, basil], reason: children like the scent}
  - {apart: [onion, pea]}
wishes:
  - {crop: carrot, row_m: 30, priority: 5}
  - {crop: pole bean, plants: 20}
  - {crop: tomato, plants: 6, beds: {only: [B, C]}}
  - {crop: basil, plants: 6}
  - {crop: onion, plants: 60}
  - {crop: pea, row_m: 4}
  - {crop: radish, row_m: 3, layout: staggered, beds: {only: [C]}}
  - {crop: watermelon, plants: 4}
  - {crop: sweet potato, plants: 4}
  - {crop: lettuce, plants: 10, harvest: {from: 2027-01-05, to: 2027-02-10}}
  - {crop: borage, harvest_kg: 3}
  - {crop: winter rye, row_m: 2, beds: {not: [A, B, C, D]}}
leave_alone: [D]
"""
"""Lead, raw manure, shade, odd shapes, and wishes that cannot be."""
