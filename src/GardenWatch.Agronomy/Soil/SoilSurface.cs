namespace GardenWatch.Agronomy.Soil;

/// <summary>What lies on the soil.</summary>
public enum SoilCover
{
    Bare,
    /// <summary>Short turf, as at weather stations.</summary>
    Grass,
    /// <summary>Straw or hay, about five centimetres.</summary>
    Straw,
    /// <summary>Compost, leaves, chips: about five centimetres.</summary>
    OrganicMulch,
    BlackFilm,
    ClearFilm,
    WhiteFilm,
}

/// <summary>What stands over the bed.</summary>
public enum SoilRoof { Open, Frame, Tunnel, Greenhouse }

/// <summary>How the soil lies.</summary>
public enum SoilPlace
{
    Ground,
    /// <summary>Higher than the paths by a hand or more: it drains and dries sooner.</summary>
    RaisedBed,
    /// <summary>A pot or tub, which the air also reaches from the sides.</summary>
    Container,
}

/// <summary>What decides how a bed's soil takes up the warmth of air and sun.</summary>
public sealed record SoilSurface(SoilCover Cover, SoilRoof Roof = SoilRoof.Open, SoilPlace Place = SoilPlace.Ground)
{
    public static SoilSurface BareGround { get; } = new(SoilCover.Bare);
}
