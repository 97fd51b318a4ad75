namespace Washwear.Dashboard.SignIn;

/// <summary>Why somebody is not let in.</summary>
public enum SignInTrouble
{
    /// <summary>Login and password do not fit together, or the person may not sign in.</summary>
    NoMatch,

    /// <summary>The key is not known, or was revoked.</summary>
    UnknownKey,

    /// <summary>The link that signs in was used already or is too old.</summary>
    UsedLink,

    /// <summary>The link of an invitation or for a password was used already, taken back or is too old.</summary>
    LinkIsOver,

    /// <summary>The company's sign-in cannot be reached.</summary>
    Unreachable,

    /// <summary>What was begun was lost on the way, or took too long.</summary>
    Lost,

    /// <summary>The company's sign-in says no.</summary>
    Denied,

    /// <summary>What the company's sign-in sent cannot be trusted.</summary>
    NotTrusted,

    /// <summary>Nobody who may sign in has this account.</summary>
    NobodyHasAccount,

    /// <summary>The company does not tell the login.</summary>
    NoLoginTold,

    /// <summary>The company has not verified the address.</summary>
    NotVerified,
}

/// <summary>Why a login, a name or a password cannot be taken.</summary>
public enum JoinTrouble
{
    /// <summary>The password has too few characters.</summary>
    PasswordTooShort,

    /// <summary>The password has too many characters.</summary>
    PasswordTooLong,

    /// <summary>The password is among the most common ones.</summary>
    PasswordCommon,

    /// <summary>The password is little more than the name, the login or the name of the service.</summary>
    PasswordOwnName,

    /// <summary>The login cannot be one.</summary>
    LoginText,

    /// <summary>Somebody has the login already.</summary>
    LoginTaken,

    /// <summary>The name cannot be one.</summary>
    NameText,

    /// <summary>What the invitation gives, its maker may not give any more.</summary>
    InvitationNotGood,

    /// <summary>The present password is another one.</summary>
    PresentPassword,
}
