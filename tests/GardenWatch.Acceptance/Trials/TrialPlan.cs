namespace GardenWatch.Acceptance.Trials;

/// <summary>The garden of the trials: something to sow, to set out, to cover and to spread.</summary>
internal static class TrialPlan
{
    public static string For(params string[] addressees) => $$"""
        garden: Mill Bank
        id: mill-bank
        place: { town: Ahrenfeld, latitude: 52.5, longitude: 9.5, elevation: 60 m, zone: Europe/Berlin }
        units: metric
        in the garden: { weekdays: 06:30-08:00 and 17:30-20:30, weekends: 08:00-19:00 }
        digest: { at: "06:00", to: [{{string.Join(", ", addressees)}}] }
        beds:
          - { bed: long bed, size: 1.2 m x 4 m, soil: loam }
          - { bed: low bed, size: 1.2 m x 2.4 m, frost pocket: 1 °C, cover: light fleece }
        plantings:
          - { crop: radish, bed: long bed, sowings: every 10 days until too warm }
          - { crop: winter squash, bed: long bed, bought: early May }
          - { crop: tomato, bed: low bed, plants: 6, set out: 5 May 2026 }
        chores:
          - chore: Spread granular fertiliser
            bed: low bed
            every: 6 weeks
            when:
              - rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}
            caution: product label
        """;
}
