namespace GardenWatch.Peers.Smtp;

/// <summary>What the server does wrong on one connection.</summary>
public enum SmtpFault
{
    None,
    /// <summary>The line is cut before a word is said.</summary>
    CutAtOnce,
    /// <summary>The line opens and nothing is said until <see cref="ScriptedSmtpServer.Release"/>.</summary>
    StallAtOnce,
    /// <summary>421 instead of a greeting.</summary>
    BusyGreeting,
    /// <summary>554 instead of a greeting.</summary>
    BarredGreeting,
    NoStartTls,
    /// <summary>A certificate for another name, signed by nobody known.</summary>
    BadCertificate,
    /// <summary>The right name and signature, but it ran out the day before.</summary>
    ExpiredCertificate,
    /// <summary>535, whatever the password.</summary>
    LoginRefused,
    MailPutOff,
    MailRefused,
    RcptPutOff,
    RcptRefused,
    DataPutOff,
    DataRefused,
    /// <summary>451 after the final dot; not kept.</summary>
    DotPutOff,
    /// <summary>554 after the final dot; not kept.</summary>
    DotRefused,
    /// <summary>The line is cut in place of the answer to DATA.</summary>
    DropBeforeData,
    /// <summary>The line is cut after the final dot; the mail was kept.</summary>
    DropAfterDot,
    /// <summary>No answer after the final dot until <see cref="ScriptedSmtpServer.Release"/>; the mail was kept.</summary>
    HangAfterDot,
    /// <summary>Taken with 250, then the line is cut.</summary>
    DropBeforeQuit,
}
