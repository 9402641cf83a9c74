namespace GardenWatch.Peers.OpenMeteo;

/// <summary>One way in which the weather service goes wrong, for one call.</summary>
public abstract record StandInFault
{
    private StandInFault() { }

    /// <summary>No fault: the call is answered well. Fills a place in a script.</summary>
    public sealed record None : StandInFault;

    /// <summary>Answers, well, only once it is released.</summary>
    public sealed record Slow(Task Release) : StandInFault;

    /// <summary>Sends headers and half of the answer, and the rest only once it is released.</summary>
    public sealed record SlowBody(Task Release) : StandInFault;

    /// <summary>Breaks the connection in the middle of the answer.</summary>
    public sealed record CutOff : StandInFault;

    /// <summary>Ends properly, but half of the JSON is not there.</summary>
    public sealed record Malformed : StandInFault;

    /// <summary>The front's own page: 502 or 504, HTML.</summary>
    public sealed record FrontPage(int Status) : StandInFault;

    /// <summary>200, half of the answer, then the text of a fault.</summary>
    public sealed record StreamedError : StandInFault;

    /// <summary>200, and nothing but the text of a fault.</summary>
    public sealed record OnlyErrorText : StandInFault;

    /// <summary>503 as JSON.</summary>
    public sealed record Overloaded(TimeSpan? RetryAfter = null) : StandInFault;

    /// <summary>429 with the service's words, with or without a Retry-After header.</summary>
    public sealed record TooMany(string Reason, TimeSpan? RetryAfter = null) : StandInFault
    {
        public const string Minutely = "Minutely API request limit exceeded. Please try again in one minute.";
        public const string Hourly = "Hourly API request limit exceeded. Please try again in the next hour.";
        public const string Daily = "Daily API request limit exceeded. Please try again tomorrow.";
        public const string Concurrent = "Too many concurrent requests";
    }

    /// <summary>400 as JSON.</summary>
    public sealed record BadRequest(string Reason) : StandInFault;

    /// <summary>Gives null from this hour on, counted from the stand-in's now; all hours when it is long past.</summary>
    public sealed record NullsFrom(int HoursFromNow) : StandInFault;

    /// <summary>Gives null for one variable throughout.</summary>
    public sealed record NullsIn(string Variable) : StandInFault;

    /// <summary>A variable the model lacks: all null, unit "undefined".</summary>
    public sealed record Undefined(string Variable) : StandInFault;

    /// <summary>Another unit than was asked for, with the values unchanged.</summary>
    public sealed record WrongUnit(string Variable, string Unit) : StandInFault;

    /// <summary>One variable has an hour less than there are times.</summary>
    public sealed record WrongLength(string Variable) : StandInFault;

    /// <summary>The answer is for the other side of the world.</summary>
    public sealed record WrongContinent : StandInFault;

    /// <summary>A body of so many megabytes.</summary>
    public sealed record Huge(int Megabytes) : StandInFault;

    /// <summary>Any status with any body.</summary>
    public sealed record Says(int Status, string ContentType, string Body) : StandInFault;
}
